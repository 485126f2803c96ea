package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Fields;
import comebackledger.stat.HoldCurve;
import comebackledger.stat.HoldCurve.Repair;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** {@code POST /v1/calculations/repair-hold}: the share of repairs still holding. */
public final class RepairHoldMapping {
    private RepairHoldMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault */
    public static JsonNode answer(Fields body) {
        List<Repair> repairs = repairs(body);
        double level = Figures.confidenceLevel(body);
        body.refuseUnknown();
        body.faults().throwIfAny();
        ObjectNode node = toWire(HoldCurve.of(repairs, level));
        if (repairs.isEmpty()) {
            node.put("undefined", "no repair was sent: nothing is known of how long one holds");
        }
        return node;
    }

    /** The {@code repairs} of a body or group. */
    static List<Repair> repairs(Fields fields) {
        List<Repair> repairs = fields.list("repairs", Figures.ENTRIES_AT_MOST, RepairHoldMapping::repair);
        return fields.required("repairs", Optional.of(repairs)).orElseThrow();
    }

    private static Optional<Repair> repair(Fields entry) {
        double held = entry.requiredNumber("held", 0, Figures.LARGEST);
        Optional<Boolean> returned = entry.required("returned", entry.flag("returned"));
        return entry.build(() -> new Repair(held, returned.orElseThrow()));
    }

    /** The curve with its median; also for answers that hold one among others. */
    public static ObjectNode toWire(HoldCurve curve) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.set("points", points(curve.points()));
        Figures.put(node, "median", curve.median());
        Figures.put(node, "medianLow", curve.medianLow());
        Figures.put(node, "medianHigh", curve.medianHigh());
        List<String> reasons = new ArrayList<>();
        if (curve.points().isEmpty()) {
            reasons.add("no repair returned: all held as long as they were seen, and nothing is known beyond");
        } else {
            reasons.addAll(Figures.missing(node, "median", "more than half still held when last seen", "medianLow",
                    "the lower limit never falls to one half", "medianHigh", "the upper limit never falls to one half"));
        }
        if (curve.points().stream().anyMatch(point -> point.standardError().isEmpty())) {
            reasons.add("standardError, low, high: once nothing holds there is none");
        }
        Figures.undefined(node, reasons);
        return node;
    }

    /** The points as they stand on the wire. */
    public static ArrayNode points(List<HoldCurve.Point> points) {
        ArrayNode array = JsonNodeFactory.instance.arrayNode(points.size());
        for (HoldCurve.Point point : points) {
            ObjectNode node = array.addObject().put("at", point.at()).put("atRisk", point.atRisk()).put("returned", point.returned())
                    .put("holding", point.holding());
            Figures.put(node, "standardError", point.standardError());
            Figures.put(node, "low", point.low());
            Figures.put(node, "high", point.high());
        }
        return array;
    }
}
