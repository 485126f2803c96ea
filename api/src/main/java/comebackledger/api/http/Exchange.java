package comebackledger.api.http;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.api.caller.Caller;
import comebackledger.openapi.Faults;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Json;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import io.helidon.http.HeaderName;
import io.helidon.http.HeaderNames;
import io.helidon.http.HeaderValues;
import io.helidon.http.Status;
import io.helidon.webserver.http.ServerRequest;
import io.helidon.webserver.http.ServerResponse;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** One request that matched a route, and the answer to it. */
public final class Exchange {
    private final ServerRequest request;
    private final ServerResponse response;
    private final Route route;
    private final Map<String, String> parameters;
    private final Caller caller;
    private final String mediaType;
    private final String sentType;
    private final Query query;
    private final Entity entity;

    Exchange(ServerRequest request, ServerResponse response, Route route, Map<String, String> parameters, Caller caller, Entity entity) {
        this.request = request;
        this.response = response;
        this.route = route;
        this.parameters = parameters;
        this.caller = caller;
        this.entity = entity;
        this.mediaType = Accept.best(request.headers().values(HeaderNames.ACCEPT), route.produces())
                .orElseThrow(
                        () -> new Problem(Slug.NOT_ACCEPTABLE, "This path gives " + String.join(", ", route.produces()) + ". Accept one of them."));
        this.query = new Query(request.prologue().query().rawValue(), route.query());
        this.sentType = route.body() == Body.NONE ? "" : checkedMediaType();
    }

    public Caller caller() {
        return caller;
    }

    public String fleet() {
        return caller.fleet();
    }

    public Query query() {
        return query;
    }

    /** The media type to answer in: one that the route produces. */
    public String mediaType() {
        return mediaType;
    }

    /** A path segment as sent, decoded. */
    public String parameter(String name) {
        return java.util.Objects.requireNonNull(parameters.get(name), name);
    }

    /**
     * A path segment that names something to be written.
     *
     * @throws Problem 422 if it is no identifier
     */
    public String newIdentifier(String name) {
        String value = parameter(name);
        if (!Fields.isIdentifier(value)) {
            Faults faults = new Faults();
            faults.add("{" + name + "}", "`" + name + "` in the path must be 1 to 64 letters, digits, dots, underscores or hyphens, "
                    + "beginning with a letter or digit.");
            faults.throwIfAny();
        }
        return value;
    }

    public static Problem unitUnknown() {
        return new Problem(Slug.UNIT_UNKNOWN, "No unit of that name is registered in this fleet. Register it with `PUT /v1/units/{unit}`.");
    }

    public List<String> header(HeaderName name) {
        return request.headers().all(name, List::of);
    }

    /** Whether the caller's copy has this entity tag; only where a copy may be answered with 304. */
    public boolean isKnown(String tag) {
        return route.method().equals("GET") && Revisions.isKnown(header(HeaderNames.IF_NONE_MATCH), tag);
    }

    private String checkedMediaType() {
        List<String> types = request.headers().all(HeaderNames.CONTENT_TYPE, List::of);
        String sent = types.size() == 1 ? types.getFirst() : "";
        String[] parts = sent.toLowerCase(Locale.ROOT).split(";");
        boolean fits = route.body().mediaTypes().contains(parts[0].trim());
        for (int i = 1; i < parts.length; i++) {
            String parameter = parts[i].trim().replace("\"", "");
            fits &= !parameter.startsWith("charset=") || parameter.equals("charset=utf-8");
        }
        boolean encoded = request.headers().contains(HeaderNames.CONTENT_ENCODING)
                && !request.headers().get(HeaderNames.CONTENT_ENCODING).get().equalsIgnoreCase("identity");
        if (!fits || encoded) {
            response.headers().set(HeaderNames.ACCEPT, String.join(", ", route.body().mediaTypes()));
            throw new Problem(Slug.UNSUPPORTED_MEDIA_TYPE,
                    "Send `Content-Type: " + String.join("` or `", route.body().mediaTypes()) + "`, in UTF-8 and without a content encoding.");
        }
        return parts[0].trim();
    }

    /** The media type of the body; one that the route reads. */
    public String sentType() {
        return sentType;
    }

    /**
     * The whole body.
     *
     * @throws Problem 413 beyond the route's limit, 400 if it ends too early
     */
    public byte[] bytes() {
        long limit = route.body().bytesAtMost();
        if (request.headers().contentLength().orElse(0) > limit) {
            throw tooLarge(limit);
        }
        byte[] body;
        try (InputStream in = stream()) {
            body = in.readNBytes((int) Math.min(limit + 1, Integer.MAX_VALUE - 8));
        } catch (IOException e) {
            throw cut();
        }
        if (body.length > limit) {
            throw tooLarge(limit);
        }
        return body;
    }

    private static Problem tooLarge(long limit) {
        return new Problem(Slug.PAYLOAD_TOO_LARGE, "The body has more than " + String.format(Locale.ROOT, "%,d", limit).replace(',', ' ')
                + " bytes, the limit here. Send many units and visits with `POST /v1/imports`.");
    }

    private static Problem cut() {
        return new Problem(Slug.BAD_REQUEST, "The body ended before its announced end, or its chunks are malformed. Send all of it.");
    }

    /** @throws Problem as {@link #bytes} and {@link Json#object} */
    public JsonNode json() {
        return Json.object(bytes());
    }

    /** The body as it arrives. Each read is watched; a read that fails is an {@link IOException}. */
    public InputStream stream() {
        return entity.isEmpty() ? InputStream.nullInputStream() : entity.stream(route.deadline());
    }

    public void header(HeaderName name, String value) {
        response.headers().set(HeaderValues.create(name, value));
    }

    public void send(int status, JsonNode document) {
        send(status, mediaType, Json.bytes(document));
    }

    /** A body that was made for the media type asked for. */
    public void send(int status, String type, byte[] body) {
        begin(status, type);
        if (isHead()) {
            response.contentLength(body.length);
            response.send();
        } else {
            response.send(body);
        }
    }

    public void sendNotModified() {
        response.status(Status.NOT_MODIFIED_304);
        Problems.ALWAYS.forEach(response.headers()::setIfAbsent);
        response.send();
    }

    private void begin(int status, String type) {
        response.status(Status.create(status));
        response.headers().set(HeaderValues.create(HeaderNames.CONTENT_TYPE, type.startsWith("text/") ? type + "; charset=utf-8" : type));
        response.headers().setIfAbsent(Problems.NO_STORE);
        if (route.produces().size() > 1) {
            response.headers().set(HeaderValues.create(HeaderNames.VARY, "Accept"));
        }
        Problems.ALWAYS.forEach(response.headers()::setIfAbsent);
    }

    /** Writes an answer piece by piece, in bounded memory. A failure on the way leaves the answer visibly unfinished. */
    public void stream(String type, Pieces pieces) {
        begin(200, type);
        if (isHead()) {
            response.send();
            return;
        }
        try {
            OutputStream out = response.outputStream();
            pieces.writeTo(out);
            out.close();
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    private boolean isHead() {
        return request.prologue().method() == io.helidon.http.Method.HEAD;
    }

    /** What a streamed answer consists of. */
    @FunctionalInterface
    public interface Pieces {
        void writeTo(OutputStream out) throws IOException;
    }
}
