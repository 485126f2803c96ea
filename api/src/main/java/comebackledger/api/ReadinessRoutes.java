package comebackledger.api;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.ledger.DispatchDesk.Question;
import comebackledger.ledger.DispatchDesk.Told;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Json;
import comebackledger.openapi.ReadinessMapping;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Trip;
import io.helidon.http.HeaderNames;
import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** May this unit go out, for this trip, now? One unit, or many in one call. */
final class ReadinessRoutes {
    private static final double KM_AT_MOST = 1e5;
    private static final double HOURS_AT_MOST = 1e4;

    /** A copy of an answer may be used without asking again for this long at most; common practice, no source. */
    private static final long KEPT_SECONDS_AT_MOST = 60;

    private final Ledger ledger;

    ReadinessRoutes(Ledger ledger) {
        this.ledger = ledger;
    }

    List<Route> routes() {
        return List.of(
                Route.get("/v1/units/{unit}/readiness", RouteTable.DISPATCH, this::one).asking("at", "distanceKm", "engineHours"),
                Route.post("/v1/readiness", RouteTable.DISPATCH, Body.DOCUMENT, this::many));
    }

    private void one(Exchange exchange) {
        Optional<Instant> at = exchange.query().time("at");
        OptionalDouble distanceKm = exchange.query().numberAbove("distanceKm", 0, KM_AT_MOST);
        OptionalDouble engineHours = exchange.query().numberAbove("engineHours", 0, HOURS_AT_MOST);
        exchange.query().check();
        String unit = exchange.parameter("unit");
        Instant now = ledger.dispatch().now(exchange.fleet(), at);
        Optional<Told> told = Fields.isIdentifier(unit)
                ? ledger.dispatch().told(exchange.fleet(), List.of(new Question(unit, new Trip(distanceKm, engineHours))), at, now).getFirst()
                : Optional.empty();
        send(exchange, told.orElseThrow(Exchange::unitUnknown), at.orElse(now));
    }

    private static void send(Exchange exchange, Told told, Instant at) {
        Shown shown = told.shown(Shown::of);
        // validUntil holds while no new evidence comes; a kept copy must not send a truck out past a visit recorded a minute ago.
        long seconds = Math.clamp(Duration.between(at, told.answer().validUntil()).toSeconds(), 0, KEPT_SECONDS_AT_MOST);
        exchange.header(HeaderNames.ETAG, "W/" + shown.tag());
        exchange.header(HeaderNames.CACHE_CONTROL, "private, max-age=" + seconds);
        if (exchange.isKnown(shown.tag())) {
            exchange.sendNotModified();
        } else {
            ByteArrayOutputStream document = new ByteArrayOutputStream();
            shown.writeTo(document, at);
            exchange.send(200, Route.JSON, document.toByteArray());
        }
    }

    /** An answer as bytes around the moment of asking, with the entity tag that does not depend on it. */
    @SuppressWarnings("ArrayRecordComponent") // written, never compared
    private record Shown(byte[] before, byte[] after, String tag) {
        private static final byte[] AT = "\"at\":\"".getBytes(StandardCharsets.UTF_8);

        static Shown of(ReadinessAnswer answer) {
            ObjectNode document = ReadinessMapping.toWire(answer);
            byte[] bytes = Json.bytes(document);
            // Before it stand an identifier and a word, which hold no quotes.
            int from = indexOf(bytes, AT) + AT.length;
            int to = from;
            while (bytes[to] != '"') {
                to++;
            }
            return new Shown(Arrays.copyOf(bytes, from), Arrays.copyOfRange(bytes, to, bytes.length), ReadinessRoutes.tag(document));
        }

        private static int indexOf(byte[] bytes, byte[] wanted) {
            int at = 0;
            while (!Arrays.equals(bytes, at, at + wanted.length, wanted, 0, wanted.length)) {
                at++;
            }
            return at;
        }

        void writeTo(ByteArrayOutputStream out, Instant at) {
            out.writeBytes(before);
            out.writeBytes(at.toString().getBytes(StandardCharsets.UTF_8));
            out.writeBytes(after);
        }
    }

    /** Of the answer and its grounds: the moment of asking, and digits of the risk that move with it, make no new answer. */
    private static String tag(ObjectNode document) {
        ObjectNode lasting = document.deepCopy();
        lasting.remove(List.of("at", "validUntil", "risk"));
        try {
            byte[] hash = MessageDigest.getInstance("SHA-256").digest(Json.bytes(lasting));
            return '"' + HexFormat.of().formatHex(hash, 0, 12) + '"';
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    private void many(Exchange exchange) {
        ReadinessMapping.Questions asked = ReadinessMapping.toCore(exchange.bytes());
        Instant now = ledger.dispatch().now(exchange.fleet(), asked.at());
        List<Optional<Told>> told = ledger.dispatch().told(exchange.fleet(), asked.questions(), asked.at(), now);
        ByteArrayOutputStream page = new ByteArrayOutputStream(1 << 10);
        page.writeBytes("{\"items\":[".getBytes(StandardCharsets.UTF_8));
        for (int i = 0; i < told.size(); i++) {
            if (i > 0) {
                page.write(',');
            }
            if (told.get(i).isPresent()) {
                told.get(i).get().shown(Shown::of).writeTo(page, asked.at().orElse(now));
            } else {
                page.writeBytes(Json.bytes(unknown(asked.questions().get(i).unit())));
            }
        }
        page.writeBytes("]}".getBytes(StandardCharsets.UTF_8));
        exchange.send(200, Route.JSON, page.toByteArray());
    }

    private static ObjectNode unknown(String unit) {
        ObjectNode item = JsonNodeFactory.instance.objectNode().put("unit", unit);
        item.set("problem", Exchange.unitUnknown().toWire());
        return item;
    }
}
