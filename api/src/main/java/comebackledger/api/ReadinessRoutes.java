package comebackledger.api;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.ledger.DispatchDesk.Question;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Json;
import comebackledger.openapi.ReadinessMapping;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Trip;
import io.helidon.http.HeaderNames;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.time.Instant;
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
        Optional<ReadinessAnswer> answer = Fields.isIdentifier(unit)
                ? ledger.dispatch().readiness(exchange.fleet(), new Question(unit, new Trip(distanceKm, engineHours)), at)
                : Optional.empty();
        send(exchange, answer.orElseThrow(Exchange::unitUnknown), at);
    }

    private void send(Exchange exchange, ReadinessAnswer answer, Optional<Instant> at) {
        ObjectNode document = ReadinessMapping.toWire(answer);
        String tag = tag(document);
        // validUntil holds while no new evidence comes; a kept copy must not send a truck out past a visit recorded a minute ago.
        long seconds = Math.clamp(Duration.between(at.orElse(answer.at()), answer.validUntil()).toSeconds(), 0, KEPT_SECONDS_AT_MOST);
        exchange.header(HeaderNames.ETAG, "W/" + tag);
        exchange.header(HeaderNames.CACHE_CONTROL, "private, max-age=" + seconds);
        if (exchange.isKnown(tag)) {
            exchange.sendNotModified();
        } else {
            exchange.send(200, document);
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
        List<Optional<ReadinessAnswer>> answers = ledger.dispatch().readiness(exchange.fleet(), asked.questions(), asked.at());
        ObjectNode page = JsonNodeFactory.instance.objectNode();
        ArrayNode items = page.putArray("items");
        for (int i = 0; i < answers.size(); i++) {
            String unit = asked.questions().get(i).unit();
            items.add(answers.get(i).map(ReadinessMapping::toWire).orElseGet(() -> unknown(unit)));
        }
        exchange.send(200, page);
    }

    private static ObjectNode unknown(String unit) {
        ObjectNode item = JsonNodeFactory.instance.objectNode().put("unit", unit);
        item.set("problem", Exchange.unitUnknown().toWire());
        return item;
    }
}
