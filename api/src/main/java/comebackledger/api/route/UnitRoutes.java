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
import comebackledger.ledger.RecordedUnit;
import comebackledger.openapi.Fields;
import comebackledger.openapi.UnitMapping;
import comebackledger.unit.Unit;
import io.helidon.http.HeaderNames;
import java.util.List;
import java.util.Optional;

/** Units: registered, replaced, read and listed. */
final class UnitRoutes {
    private final Ledger ledger;

    UnitRoutes(Ledger ledger) {
        this.ledger = ledger;
    }

    List<Route> routes() {
        return List.of(
                Route.put("/v1/units/{unit}", RouteTable.WRITERS, this::put),
                Route.get("/v1/units/{unit}", RouteTable.SHOP, this::get),
                Route.get("/v1/units", RouteTable.SHOP, this::list).asking("limit", "after"));
    }

    private void put(Exchange exchange) {
        String id = exchange.newIdentifier("unit");
        Evidence<Unit> evidence = UnitMapping.toCore(id, exchange.bytes());
        switch (ledger.putUnit(exchange.caller().inLedger(), evidence)) {
            case Outcome.Created<RecordedUnit>(RecordedUnit unit) -> send(exchange, 201, unit);
            case Outcome.Replaced<RecordedUnit>(RecordedUnit unit) -> send(exchange, 200, unit);
            case Outcome.Unchanged<RecordedUnit>(RecordedUnit unit) -> send(exchange, 200, unit);
            case Outcome.UnitUnknown<RecordedUnit> _,Outcome.RevisionRequired<RecordedUnit> _,Outcome.Stale<RecordedUnit> _ ->
                throw new IllegalStateException("a unit is put without a revision");
        }
    }

    private void get(Exchange exchange) {
        String id = exchange.parameter("unit");
        Optional<RecordedUnit> unit = Fields.isIdentifier(id) ? ledger.unit(exchange.fleet(), id) : Optional.empty();
        send(exchange, 200, unit.orElseThrow(Exchange::unitUnknown));
    }

    private static void send(Exchange exchange, int status, RecordedUnit unit) {
        exchange.header(HeaderNames.ETAG, Revisions.tag(unit.version()));
        if (exchange.isKnown(Revisions.tag(unit.version()))) {
            exchange.sendNotModified();
        } else {
            exchange.send(status, UnitMapping.toWire(unit));
        }
    }

    private void list(Exchange exchange) {
        int limit = exchange.query().limit();
        Optional<String> after = exchange.query().cursor(Cursor.UNITS, text -> Optional.of(text).filter(Fields::isIdentifier));
        exchange.query().check();
        List<RecordedUnit> units = ledger.units(exchange.fleet(), after, limit + 1);
        ObjectNode page = JsonNodeFactory.instance.objectNode();
        ArrayNode items = page.putArray("items");
        units.stream().limit(limit).map(UnitMapping::toWire).forEach(items::add);
        if (units.size() > limit) {
            page.put("next", Cursor.UNITS.of(units.get(limit - 1).unit().id()));
        }
        exchange.send(200, page);
    }
}
