package comebackledger.api.http;

import comebackledger.ledger.StoreUnavailableException;
import comebackledger.openapi.Json;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import io.helidon.http.DirectHandler;
import io.helidon.http.Header;
import io.helidon.http.HeaderNames;
import io.helidon.http.HeaderValues;
import io.helidon.http.HttpException;
import io.helidon.http.RequestException;
import io.helidon.http.ServerResponseHeaders;
import io.helidon.http.Status;
import io.helidon.webserver.CloseConnectionException;
import io.helidon.webserver.http.DirectHandlers;
import io.helidon.webserver.http.ServerResponse;
import java.io.UncheckedIOException;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;

/** Whatever went wrong, as a problem document. */
public final class Problems {
    private static final System.Logger LOG = System.getLogger(Problems.class.getName());

    static final Header PROBLEM_TYPE = HeaderValues.createCached(HeaderNames.CONTENT_TYPE, "application/problem+json");
    /** Never kept by caches, never read as another type, never framed; a page sets its own policy. */
    static final List<Header> ALWAYS = List.of(HeaderValues.createCached(HeaderNames.create("X-Content-Type-Options"), "nosniff"),
            HeaderValues.createCached(HeaderNames.create("Content-Security-Policy"), "default-src 'none'; frame-ancestors 'none'"),
            HeaderValues.createCached(HeaderNames.create("Referrer-Policy"), "no-referrer"));
    static final Header NO_STORE = HeaderValues.createCached(HeaderNames.CACHE_CONTROL, "no-store");
    private static final Header RETRY_SOON = HeaderValues.createCached(HeaderNames.RETRY_AFTER, "1");
    private static final Header RETRY_LATER = HeaderValues.createCached(HeaderNames.RETRY_AFTER, "5");
    private static final Header BEARER = HeaderValues.createCached(HeaderNames.WWW_AUTHENTICATE, "Bearer");

    private Problems() {}

    /** The problem behind any exception but a lost connection, which is thrown on. */
    public static Problem of(Throwable thrown) {
        return switch (thrown) {
            case Problem problem -> problem;
            case StoreUnavailableException e -> {
                LOG.log(System.Logger.Level.WARNING, "the store cannot be reached", e);
                yield new Problem(Slug.STORAGE_UNAVAILABLE, "The store does not answer. Nothing was changed by this request. Send it again later.");
            }
            case CloseConnectionException e -> throw e;
            case UncheckedIOException e -> throw e;
            case HttpException e -> ofStatus(e.status());
            case RequestException e -> ofStatus(e.status());
            case VirtualMachineError e when !(e instanceof StackOverflowError) -> throw e;
            default -> bug(thrown);
        };
    }

    private static Problem bug(Throwable thrown) {
        String id = UUID.randomUUID().toString();
        LOG.log(System.Logger.Level.ERROR, "internal error " + id, thrown);
        return new Problem(Slug.INTERNAL, "A fault of the service, not of the request; its log tells more under " + id + ".");
    }

    /** What the server itself refuses, before or beside the routes. */
    public static Problem ofStatus(Status status) {
        return switch (status.code()) {
            case 401 -> new Problem(Slug.UNAUTHENTICATED, "Send a bearer token.");
            case 403 -> new Problem(Slug.FORBIDDEN, "This is not allowed.");
            case 404 -> new Problem(Slug.NOT_FOUND, "There is no such path here. The contract at /openapi names them all.");
            case 405 -> new Problem(Slug.METHOD_NOT_ALLOWED, "The method does not apply to this path.");
            case 406 -> new Problem(Slug.NOT_ACCEPTABLE, "Nothing this path gives fits the Accept header.");
            case 413 -> new Problem(Slug.PAYLOAD_TOO_LARGE, "The body is larger than anything read here.");
            case 415 -> new Problem(Slug.UNSUPPORTED_MEDIA_TYPE,
                    "The body's media type or encoding is not read here. Send it in UTF-8 and without a content encoding.");
            case 414 -> new Problem(Slug.BAD_REQUEST,
                    "The request line has more than " + ServerLimits.REQUEST_LINE_BYTES_AT_MOST + " bytes, the limit. Send a shorter one.");
            case 431 -> new Problem(Slug.BAD_REQUEST,
                    "The headers have more than " + ServerLimits.HEADER_BYTES_AT_MOST + " bytes together, the limit. Send fewer.");
            case 429, 503 -> new Problem(Slug.TOO_MANY_REQUESTS, "More than " + ServerLimits.REQUESTS_AT_ONCE
                    + " requests are being answered, the limit. Wait a second and send it again.");
            default -> new Problem(Slug.BAD_REQUEST,
                    "The request cannot be read as HTTP/1.1: its request line, path, query, headers or chunks are malformed.");
        };
    }

    public static void send(ServerResponse response, Problem problem, boolean head) {
        response.status(Status.create(problem.slug().status()));
        headers(response.headers(), problem.slug());
        byte[] document = Json.bytes(problem.toWire());
        if (head) {
            response.contentLength(document.length);
            response.send();
        } else {
            response.send(document);
        }
    }

    private static void headers(io.helidon.http.WritableHeaders<?> headers, Slug slug) {
        headers.set(PROBLEM_TYPE);
        headers.set(NO_STORE);
        ALWAYS.forEach(headers::set);
        switch (slug) {
            case TOO_MANY_REQUESTS -> headers.set(RETRY_SOON);
            case STORAGE_UNAVAILABLE -> headers.set(RETRY_LATER);
            case UNAUTHENTICATED -> headers.set(BEARER);
            default -> headers.remove(HeaderNames.RETRY_AFTER);
        }
    }

    /** For every event that the server answers before any route sees the request. */
    public static DirectHandlers directHandlers() {
        DirectHandlers.Builder handlers = DirectHandlers.builder();
        Arrays.stream(DirectHandler.EventType.values()).forEach(type -> handlers.addHandler(type, Problems::direct));
        return handlers.build();
    }

    private static DirectHandler.TransportResponse direct(DirectHandler.TransportRequest request, DirectHandler.EventType type, Status status,
            ServerResponseHeaders headers, String message) {
        // The server itself calls an encoding it cannot undo a malformed request.
        boolean encoded = request.headers().contains(HeaderNames.CONTENT_ENCODING);
        Problem problem = ofStatus(encoded && status.code() == 400 ? Status.UNSUPPORTED_MEDIA_TYPE_415 : status);
        headers(headers, problem.slug());
        return DirectHandler.TransportResponse.builder().status(Status.create(problem.slug().status())).headers(headers).keepAlive(false)
                .entity(Json.bytes(problem.toWire())).build();
    }
}
