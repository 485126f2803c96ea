package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Fields;
import comebackledger.stat.ReadingTrend;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** {@code POST /v1/calculations/reading-trend}: whether readings rise or fall, and when they meet a limit. */
public final class ReadingTrendMapping {
    private record Point(double at, double value) {}

    private ReadingTrendMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault */
    public static JsonNode answer(Fields body) {
        List<Point> points = body.list("points", Figures.ENTRIES_AT_MOST, ReadingTrendMapping::point);
        body.required("points", Optional.of(points));
        OptionalDouble low = body.number("low", -Figures.LARGEST, Figures.LARGEST);
        OptionalDouble high = body.number("high", -Figures.LARGEST, Figures.LARGEST);
        double level = Figures.confidenceLevel(body);
        if (low.isPresent() && high.isPresent() && !(low.getAsDouble() < high.getAsDouble())) {
            body.fault("high", "`high` must be above `low`. Send the upper limit as `high`, the lower one as `low`.");
        }
        body.refuseUnknown();
        body.faults().throwIfAny();
        double[] at = points.stream().mapToDouble(Point::at).toArray();
        double[] values = points.stream().mapToDouble(Point::value).toArray();
        return toWire(ReadingTrend.of(at, values, level), low, high);
    }

    private static Optional<Point> point(Fields entry) {
        double at = entry.requiredNumber("at", -Figures.LARGEST, Figures.LARGEST);
        double value = entry.requiredNumber("value", -Figures.LARGEST, Figures.LARGEST);
        return entry.build(() -> new Point(at, value));
    }

    /** A trend and where it meets the limits; also for answers that hold one among others. */
    public static ObjectNode toWire(ReadingTrend trend, OptionalDouble low, OptionalDouble high) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        if (trend.undefined().isPresent()) {
            return node.put("undefined", trend.undefined().get());
        }
        node.put("kendallS", trend.kendallS());
        Figures.put(node, "tau", trend.tau());
        Figures.put(node, "pValue", trend.pValue());
        Figures.put(node, "slope", trend.slope());
        Figures.put(node, "slopeLow", trend.slopeLow());
        Figures.put(node, "slopeHigh", trend.slopeHigh());
        Figures.put(node, "intercept", trend.intercept());
        trend.crossing(low, high).ifPresent(crossing -> crossing(node.putObject("crossing"), crossing));
        List<String> reasons = Figures.missing(node, "tau", "all values are equal", "slope", "beyond the range of numbers", "slopeLow",
                "too few readings for limits at this level", "slopeHigh", "too few readings for limits at this level");
        if (!node.has("crossing") && (low.isPresent() || high.isPresent())) {
            reasons.add("crossing: the readings do not run toward a limit that was sent");
        }
        Figures.undefined(node, reasons);
        return node;
    }

    private static void crossing(ObjectNode node, ReadingTrend.Crossing crossing) {
        node.put("limit", crossing.limit());
        Figures.put(node, "at", crossing.at());
        Figures.put(node, "earliest", crossing.earliest());
        Figures.put(node, "latest", crossing.latest());
    }
}
