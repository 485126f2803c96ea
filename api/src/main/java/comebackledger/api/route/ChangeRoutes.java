package comebackledger.api.route;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.api.http.Cursor;
import comebackledger.api.http.Exchange;
import comebackledger.api.http.Route;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Stored;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The change feed: whoever follows {@code next} misses nothing and sees nothing twice. */
final class ChangeRoutes {
    private final Ledger ledger;

    ChangeRoutes(Ledger ledger) {
        this.ledger = ledger;
    }

    List<Route> routes() {
        return List.of(Route.get("/v1/changes", RouteTable.DISPATCH, this::list).asking("limit", "after"));
    }

    private void list(Exchange exchange) {
        int limit = exchange.query().limit();
        long after = exchange.query().cursor(Cursor.CHANGES, ChangeRoutes::position).orElse(0L);
        exchange.query().check();
        List<Stored.Change> changes = ledger.changes(exchange.fleet(), after, limit);
        if (changes.isEmpty() && after > 0 && ledger.changes(exchange.fleet(), after - 1, 1).isEmpty()) {
            // Ahead of everything: from another ledger, or from before this one was put back to an earlier state. Waiting there would miss what comes.
            throw exchange.query().neverGiven();
        }
        ObjectNode page = JsonNodeFactory.instance.objectNode();
        ArrayNode items = page.putArray("items");
        for (Stored.Change change : changes) {
            ObjectNode item = items.addObject();
            item.put("cursor", Cursor.CHANGES.of(Long.toString(change.position())));
            item.put("kind", change.kind().name().toLowerCase(Locale.ROOT).replace('_', '-'));
            change.unit().ifPresent(unit -> item.put("unit", unit));
            change.visit().ifPresent(visit -> item.put("visit", visit));
            item.put("at", change.at().toString());
            item.put("by", change.by());
        }
        page.put("next", Cursor.CHANGES.of(Long.toString(changes.isEmpty() ? after : changes.getLast().position())));
        exchange.send(200, page);
    }

    private static Optional<Long> position(String place) {
        return place.matches("[0-9]{1,18}") ? Optional.of(Long.valueOf(place)) : Optional.empty();
    }
}
