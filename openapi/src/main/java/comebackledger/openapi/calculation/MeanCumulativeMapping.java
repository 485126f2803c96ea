package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Fields;
import comebackledger.stat.MeanCumulative;
import comebackledger.stat.MeanCumulative.History;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** {@code POST /v1/calculations/mean-cumulative}: how many events a unit has had by a time, on average. */
public final class MeanCumulativeMapping {
    private MeanCumulativeMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault */
    public static JsonNode answer(Fields body) {
        List<History> units = body.list("units", Figures.ENTRIES_AT_MOST, MeanCumulativeMapping::history);
        double level = Figures.confidenceLevel(body);
        body.required("units", Optional.of(units));
        if (body.faults().count() == 0 && units.isEmpty()) {
            body.fault("units", "`units` is empty: nothing was observed, so there is no mean. Send at least one unit, even one without events.");
        }
        body.refuseUnknown();
        body.faults().throwIfAny();
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        List<MeanCumulative.Point> points = MeanCumulative.of(units, level);
        node.set("points", points(points));
        if (points.stream().anyMatch(point -> point.low().isEmpty())) {
            node.put("undefined", "one unit shows no spread between units: no standard error and no limits");
        }
        return node;
    }

    private static Optional<History> history(Fields unit) {
        Figures.id(unit);
        double[] events = Figures.required(unit, "events", 0);
        OptionalDouble until = Figures.requiredNumber(unit, "observedUntil", 0, Figures.LARGEST);
        for (int i = 0; i < events.length && until.isPresent(); i++) {
            if (events[i] > until.getAsDouble()) {
                unit.faults().add(unit.pointer("events") + "/" + i,
                        "This event lies after the unit's `observedUntil`. Send events up to the end of observation.");
            }
        }
        return unit.build(() -> new History(events, until.getAsDouble()));
    }

    /** The points as they stand on the wire; also for answers that hold a curve. */
    public static ArrayNode points(List<MeanCumulative.Point> points) {
        ArrayNode array = JsonNodeFactory.instance.arrayNode(points.size());
        for (MeanCumulative.Point point : points) {
            ObjectNode node = array.addObject().put("at", point.at()).put("atRisk", point.atRisk()).put("mean", point.mean());
            if (point.low().isPresent()) {
                Figures.put(node, "standardError", point.standardError());
                Figures.put(node, "low", point.low());
                Figures.put(node, "high", point.high());
            }
        }
        return array;
    }
}
