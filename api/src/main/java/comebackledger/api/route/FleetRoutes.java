package comebackledger.api.route;

import comebackledger.api.http.Exchange;
import comebackledger.api.http.Query;
import comebackledger.api.http.Route;
import comebackledger.api.picture.FleetPictures;
import comebackledger.api.transfer.Csv;
import comebackledger.fleet.Holds;
import comebackledger.fleet.Measure;
import comebackledger.fleet.Offenders;
import comebackledger.fleet.Patterns;
import comebackledger.fleet.Recurrence;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.PlannerDesk;
import comebackledger.openapi.FleetMapping;
import comebackledger.openapi.OffendersMapping;
import comebackledger.openapi.PatternsMapping;
import comebackledger.openapi.RecurrenceMapping;
import comebackledger.openapi.RepairsMapping;
import comebackledger.policy.Policy.Display;
import comebackledger.visit.RepairAction;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;

/** The planner's answers over the whole fleet or a group, as JSON, as rows for a spreadsheet, and two of them as a picture. */
final class FleetRoutes {
    private final Ledger ledger;

    FleetRoutes(Ledger ledger) {
        this.ledger = ledger;
    }

    List<Route> routes() {
        return List.of(
                Route.get("/v1/fleet/offenders", RouteTable.CARRIERS, this::offenders).asking("group", "system", "at", "limit")
                        .producing(Route.JSON, Route.CSV),
                Route.get("/v1/fleet/patterns", RouteTable.CARRIERS, this::patterns).asking("group", "system", "at").producing(Route.JSON, Route.CSV),
                Route.get("/v1/fleet/repairs", RouteTable.CARRIERS, this::repairs).asking("group", "system", "at", "place", "action", "measure")
                        .producing(Route.JSON, Route.CSV, Route.SVG),
                Route.get("/v1/fleet/recurrence", RouteTable.CARRIERS, this::recurrence).asking("group", "system", "at", "measure")
                        .producing(Route.JSON, Route.CSV, Route.SVG));
    }

    private static PlannerDesk.Question question(Query query) {
        return new PlannerDesk.Question(query.identifier("group"), query.place("system"), query.time("at"));
    }

    private static Measure measure(Query query) {
        return query.word("measure", FleetMapping.MEASURES).orElse(Measure.KM);
    }

    private void offenders(Exchange exchange) {
        PlannerDesk.Question question = question(exchange.query());
        int limit = exchange.query().limit();
        exchange.query().check();
        PlannerDesk.Answer<Offenders> answer = ledger.planner().offenders(exchange.fleet(), question, limit);
        if (exchange.mediaType().equals(Route.CSV)) {
            exchange.send(200, Route.CSV, Csv.of(OffendersMapping.rows(answer)));
        } else {
            exchange.send(200, OffendersMapping.toWire(answer));
        }
    }

    private void patterns(Exchange exchange) {
        PlannerDesk.Question question = question(exchange.query());
        exchange.query().check();
        PlannerDesk.Answer<Patterns> answer = ledger.planner().patterns(exchange.fleet(), question);
        if (exchange.mediaType().equals(Route.CSV)) {
            exchange.send(200, Route.CSV, Csv.of(PatternsMapping.rows(answer)));
        } else {
            exchange.send(200, PatternsMapping.toWire(answer));
        }
    }

    private void repairs(Exchange exchange) {
        PlannerDesk.Question question = question(exchange.query());
        Measure measure = measure(exchange.query());
        Optional<String> place = exchange.query().place("place");
        Optional<String> action = exchange.query().word("action", RepairAction.WORDS).map(RepairAction::word);
        exchange.query().check();
        PlannerDesk.Answer<Holds> answer = ledger.planner().holds(exchange.fleet(), question, new Holds.Filter(place, action), measure);
        switch (exchange.mediaType()) {
            case Route.CSV -> exchange.send(200, Route.CSV, Csv.of(RepairsMapping.rows(answer)));
            case Route.SVG -> sendPicture(exchange, FleetPictures.holds(answer.content(), measure, display(exchange)));
            default -> exchange.send(200, RepairsMapping.toWire(answer, measure));
        }
    }

    private void recurrence(Exchange exchange) {
        PlannerDesk.Question question = question(exchange.query());
        Measure measure = measure(exchange.query());
        exchange.query().check();
        PlannerDesk.Answer<Recurrence> answer = ledger.planner().recurrence(exchange.fleet(), question, measure);
        switch (exchange.mediaType()) {
            case Route.CSV -> exchange.send(200, Route.CSV, Csv.of(RecurrenceMapping.rows(answer)));
            case Route.SVG -> sendPicture(exchange, FleetPictures.recurrence(answer.content(), measure, display(exchange)));
            default -> exchange.send(200, RecurrenceMapping.toWire(answer, measure));
        }
    }

    private Display display(Exchange exchange) {
        return ledger.policy(exchange.fleet()).policy().display();
    }

    private static void sendPicture(Exchange exchange, String picture) {
        exchange.send(200, Route.SVG, picture.getBytes(StandardCharsets.UTF_8));
    }
}
