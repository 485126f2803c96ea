package comebackledger.api.route;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.api.http.Exchange;
import comebackledger.api.http.Route;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Standing;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import comebackledger.openapi.TrailMapping;
import comebackledger.trail.Trail;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** What was true of a unit at an instant, as known now: its standing and its trails. */
final class StandingRoutes {
    private final Ledger ledger;

    StandingRoutes(Ledger ledger) {
        this.ledger = ledger;
    }

    List<Route> routes() {
        return List.of(
                Route.get("/v1/units/{unit}/standing", RouteTable.DISPATCH, this::standing).asking("at"),
                Route.get("/v1/units/{unit}/trails", RouteTable.SHOP, this::trails).asking("at"),
                Route.get("/v1/units/{unit}/trails/{place}", RouteTable.SHOP, this::trail).asking("at"));
    }

    private Standing of(Exchange exchange) {
        Optional<Instant> at = exchange.query().time("at");
        exchange.query().check();
        String unit = exchange.parameter("unit");
        Optional<Standing> standing = Fields.isIdentifier(unit) ? ledger.standing(exchange.fleet(), unit, at) : Optional.empty();
        return standing.orElseThrow(Exchange::unitUnknown);
    }

    private void standing(Exchange exchange) {
        exchange.send(200, TrailMapping.standing(of(exchange)));
    }

    private void trails(Exchange exchange) {
        ObjectNode page = JsonNodeFactory.instance.objectNode();
        page.set("items", TrailMapping.trails(of(exchange).view()));
        exchange.send(200, page);
    }

    private void trail(Exchange exchange) {
        String place = exchange.parameter("place");
        Trail trail = of(exchange).view().trails().stream().filter(found -> found.place().toString().equals(place)).findFirst()
                .orElseThrow(() -> new Problem(Slug.NOT_FOUND, "This unit has no trail at that place. `GET /v1/units/{unit}/trails` lists them."));
        exchange.send(200, TrailMapping.trail(trail));
    }
}
