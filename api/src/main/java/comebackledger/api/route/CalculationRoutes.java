package comebackledger.api.route;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.api.http.Body;
import comebackledger.api.http.Exchange;
import comebackledger.api.http.Route;
import comebackledger.openapi.Faults;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import comebackledger.openapi.calculation.BusCheckMapping;
import comebackledger.openapi.calculation.BusReadingsMapping;
import comebackledger.openapi.calculation.ChargeAirTestMapping;
import comebackledger.openapi.calculation.CodesMapping;
import comebackledger.openapi.calculation.ControlChartMapping;
import comebackledger.openapi.calculation.EventTrendMapping;
import comebackledger.openapi.calculation.HoldComparisonMapping;
import comebackledger.openapi.calculation.MeanCumulativeMapping;
import comebackledger.openapi.calculation.OrificeFlowMapping;
import comebackledger.openapi.calculation.RateComparisonMapping;
import comebackledger.openapi.calculation.ReadingTrendMapping;
import comebackledger.openapi.calculation.RepairHoldMapping;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Function;

/** The calculations that need nothing stored: {@code POST /v1/calculations/{name}}. */
public final class CalculationRoutes {
    /** Each answers or leaves its faults in the fields and throws them. */
    private static final SortedMap<String, Function<Fields, JsonNode>> BY_NAME = new TreeMap<>(Map.ofEntries(
            Map.entry("bus-check", BusCheckMapping::answer),
            Map.entry("bus-readings", BusReadingsMapping::answer),
            Map.entry("charge-air-test", ChargeAirTestMapping::answer),
            Map.entry("codes", CodesMapping::answer),
            Map.entry("control-chart", ControlChartMapping::answer),
            Map.entry("event-trend", EventTrendMapping::answer),
            Map.entry("hold-comparison", HoldComparisonMapping::answer),
            Map.entry("mean-cumulative", MeanCumulativeMapping::answer),
            Map.entry("orifice-flow", OrificeFlowMapping::answer),
            Map.entry("rate-comparison", RateComparisonMapping::answer),
            Map.entry("reading-trend", ReadingTrendMapping::answer),
            Map.entry("repair-hold", RepairHoldMapping::answer)));

    private CalculationRoutes() {}

    static List<Route> routes() {
        return List.of(Route.post("/v1/calculations/{name}", RouteTable.ANYBODY, Body.CALCULATION, CalculationRoutes::calculate));
    }

    /** Of every calculation; the contract tells them one by one. */
    public static Set<String> names() {
        return BY_NAME.keySet();
    }

    private static void calculate(Exchange exchange) {
        Function<Fields, JsonNode> calculation = BY_NAME.get(exchange.parameter("name"));
        if (calculation == null) {
            throw new Problem(Slug.NOT_FOUND, "There is no calculation of that name. There are " + String.join(", ", BY_NAME.keySet()) + ".");
        }
        Faults faults = new Faults();
        JsonNode answer = calculation.apply(Fields.of(exchange.json(), faults));
        faults.throwIfAny();
        exchange.send(200, answer);
    }
}
