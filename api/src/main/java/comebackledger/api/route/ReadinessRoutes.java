package comebackledger.api.route;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.api.http.Body;
import comebackledger.api.http.Exchange;
import comebackledger.api.http.Route;
import comebackledger.ledger.DispatchDesk.Question;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Json;
import comebackledger.openapi.ReadinessMapping;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Trip;
import io.helidon.http.HeaderNames;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Duration;
import java.time.Instant;
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
        Optional<ReadinessAnswer> told = Fields.isIdentifier(unit)
                ? ledger.dispatch().told(exchange.fleet(), List.of(new Question(unit, new Trip(distanceKm, engineHours))), at, now).getFirst()
                : Optional.empty();
        send(exchange, told.orElseThrow(Exchange::unitUnknown), at.orElse(now));
    }

    private static void send(Exchange exchange, ReadinessAnswer told, Instant at) {
        ReadinessMapping.Document document = ReadinessMapping.document(told, at);
        // validUntil holds while no new evidence comes; a kept copy must not send a truck out past a visit recorded a minute ago.
        long seconds = Math.clamp(Duration.between(at, told.validUntil()).toSeconds(), 0, KEPT_SECONDS_AT_MOST);
        exchange.header(HeaderNames.ETAG, "W/" + document.tag());
        exchange.header(HeaderNames.CACHE_CONTROL, "private, max-age=" + seconds);
        if (exchange.isKnown(document.tag())) {
            exchange.sendNotModified();
        } else {
            exchange.send(200, Route.JSON, document.bytes());
        }
    }

    private void many(Exchange exchange) {
        ReadinessMapping.Questions asked = ReadinessMapping.toCore(exchange.bytes());
        Instant now = ledger.dispatch().now(exchange.fleet(), asked.at());
        Instant at = asked.at().orElse(now);
        List<Optional<ReadinessAnswer>> told = ledger.dispatch().told(exchange.fleet(), asked.questions(), asked.at(), now);
        ByteArrayOutputStream page = new ByteArrayOutputStream(1 << 10);
        try (JsonGenerator out = Json.generator(page)) {
            out.writeStartObject();
            out.writeArrayFieldStart("items");
            for (int i = 0; i < told.size(); i++) {
                if (told.get(i).isPresent()) {
                    ReadinessMapping.write(told.get(i).get(), at, out);
                } else {
                    out.writeTree(unknown(asked.questions().get(i).unit()));
                }
            }
            out.writeEndArray();
            out.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        exchange.send(200, Route.JSON, page.toByteArray());
    }

    private static ObjectNode unknown(String unit) {
        ObjectNode item = JsonNodeFactory.instance.objectNode().put("unit", unit);
        item.set("problem", Exchange.unitUnknown().toWire());
        return item;
    }
}
