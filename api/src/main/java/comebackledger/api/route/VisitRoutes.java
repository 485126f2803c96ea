package comebackledger.api.route;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.api.http.Cursor;
import comebackledger.api.http.Exchange;
import comebackledger.api.http.Revisions;
import comebackledger.api.http.Route;
import comebackledger.ledger.Evidence;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Outcome;
import comebackledger.ledger.RecordedVisit;
import comebackledger.ledger.Stored;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import comebackledger.openapi.Times;
import comebackledger.openapi.VisitAnswerMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.visit.Visit;
import io.helidon.http.HeaderNames;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/** Visits: recorded, revised, read and listed. The entity tag is the revision. */
final class VisitRoutes {
    private final Ledger ledger;

    VisitRoutes(Ledger ledger) {
        this.ledger = ledger;
    }

    List<Route> routes() {
        return List.of(
                Route.put("/v1/units/{unit}/visits/{visit}", RouteTable.WRITERS, this::put),
                Route.get("/v1/units/{unit}/visits/{visit}", RouteTable.SHOP, this::get).asking("revision"),
                Route.get("/v1/units/{unit}/visits", RouteTable.SHOP, this::list).asking("limit", "after"));
    }

    private void put(Exchange exchange) {
        String unit = exchange.parameter("unit");
        String id = exchange.newIdentifier("visit");
        Evidence<Visit> evidence = VisitMapping.toCore(id, exchange.bytes(), ledger.now());
        if (!Fields.isIdentifier(unit)) {
            throw Exchange.unitUnknown();
        }
        // Revision 0 is no revision of a visit: nothing matches it, least of all a visit that is not there (RFC 9110, 13.1.1).
        OptionalInt named = Revisions.replaced(exchange.header(HeaderNames.IF_MATCH), () -> current(exchange, unit, id));
        OptionalInt replaces = named.isPresent() && named.getAsInt() == 0 ? OptionalInt.of(Revisions.NEVER) : named;
        switch (ledger.putVisit(exchange.caller().inLedger(), unit, evidence, replaces)) {
            case Outcome.Created<RecordedVisit>(RecordedVisit visit) -> send(exchange, 201, visit);
            case Outcome.Replaced<RecordedVisit>(RecordedVisit visit) -> send(exchange, 200, visit);
            case Outcome.Unchanged<RecordedVisit>(RecordedVisit visit) -> send(exchange, 200, visit);
            case Outcome.UnitUnknown<RecordedVisit> _ -> throw Exchange.unitUnknown();
            case Outcome.RevisionRequired<RecordedVisit>(int current) -> throw Revisions.required(id, current);
            case Outcome.Stale<RecordedVisit>(int current) -> throw Revisions.stale(id, current);
        }
    }

    private OptionalInt current(Exchange exchange, String unit, String visit) {
        return ledger.visit(exchange.fleet(), unit, visit, OptionalInt.empty()).map(found -> OptionalInt.of(found.revision()))
                .orElseGet(OptionalInt::empty);
    }

    private void get(Exchange exchange) {
        OptionalInt revision = exchange.query().whole("revision", 1, Integer.MAX_VALUE);
        exchange.query().check();
        String unit = registered(exchange);
        String id = exchange.parameter("visit");
        Optional<RecordedVisit> visit = Fields.isIdentifier(id) ? ledger.visit(exchange.fleet(), unit, id, revision) : Optional.empty();
        RecordedVisit found = visit.orElseThrow(() -> new Problem(Slug.VISIT_UNKNOWN,
                revision.isPresent() ? "This unit has no such visit, or the visit no such revision." : "This unit has no such visit."));
        if (exchange.isKnown(Revisions.tag(found.revision())) && revision.isPresent()) {
            exchange.header(HeaderNames.ETAG, Revisions.tag(found.revision()));
            exchange.sendNotModified();
        } else {
            send(exchange, 200, found);
        }
    }

    private String registered(Exchange exchange) {
        String unit = exchange.parameter("unit");
        if (!Fields.isIdentifier(unit) || ledger.unit(exchange.fleet(), unit).isEmpty()) {
            throw Exchange.unitUnknown();
        }
        return unit;
    }

    private static void send(Exchange exchange, int status, RecordedVisit visit) {
        exchange.header(HeaderNames.ETAG, Revisions.tag(visit.revision()));
        exchange.send(status, VisitAnswerMapping.toWire(visit));
    }

    private void list(Exchange exchange) {
        int limit = exchange.query().limit();
        Optional<Stored.VisitKey> after = exchange.query().cursor(Cursor.VISITS, VisitRoutes::key);
        exchange.query().check();
        List<Stored.VisitRevision> visits = ledger.visits(exchange.fleet(), registered(exchange), after, limit + 1);
        ObjectNode page = JsonNodeFactory.instance.objectNode();
        ArrayNode items = page.putArray("items");
        visits.stream().limit(limit).map(VisitAnswerMapping::toWire).forEach(items::add);
        if (visits.size() > limit) {
            Stored.VisitKey last = visits.get(limit - 1).key();
            page.put("next", Cursor.VISITS.of(last.arrivedAt() + " " + last.visit()));
        }
        exchange.send(200, page);
    }

    private static Optional<Stored.VisitKey> key(String place) {
        int blank = place.indexOf(' ');
        Optional<Instant> arrivedAt = blank < 0 ? Optional.empty() : Times.instant(place.substring(0, blank));
        return arrivedAt.map(instant -> new Stored.VisitKey(instant, place.substring(blank + 1)));
    }
}
