package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Words;
import comebackledger.stat.ControlChart;
import comebackledger.stat.ControlChart.Settings;
import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** {@code POST /v1/calculations/control-chart}: whether a series left the band of its own usual scatter. */
public final class ControlChartMapping {
    private enum Kind {
        INDIVIDUALS, EWMA, CUSUM
    }

    private static final Map<String, Kind> KINDS = Words.of(Kind.values(), kind -> kind.name().toLowerCase(Locale.ROOT));

    private ControlChartMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault */
    public static JsonNode answer(Fields body) {
        Optional<Kind> kind = body.required("chart", body.word("chart", KINDS));
        double[] values = Figures.required(body, "values", -Figures.LARGEST);
        double[] sent = body.numbers("baseline", -Figures.LARGEST, Figures.LARGEST, Figures.ENTRIES_AT_MOST);
        Settings settings = new Settings(body.number("target", -Figures.LARGEST, Figures.LARGEST), body.number("sigma", 0, Figures.LARGEST),
                weight(body), Figures.above0(body, "limit", Figures.LARGEST), body.number("slack", 0, Figures.LARGEST),
                Figures.above0(body, "decision", Figures.LARGEST));
        kind.ifPresent(one -> refuseOthers(body, one));
        body.refuseUnknown();
        body.faults().throwIfAny();
        double[] baseline = body.has("baseline") ? sent : values;
        Optional<String> undefined = undefined(kind.orElseThrow(), baseline, settings);
        return undefined.isPresent() ? partly(baseline, settings, undefined.get()) : toWire(chart(kind.get(), values, baseline, settings));
    }

    private static OptionalDouble weight(Fields body) {
        OptionalDouble weight = body.number("weight", 0, 1);
        if (weight.isPresent() && weight.getAsDouble() == 0) {
            body.fault("weight", "`weight` must be above 0 and at most 1: with weight 0 no value counts.");
            return OptionalDouble.empty();
        }
        return weight;
    }

    /** A setting of another chart would change nothing, and the caller would not know. */
    private static void refuseOthers(Fields body, Kind kind) {
        if (kind != Kind.EWMA) {
            refuse(body, "weight", "ewma");
        }
        if (kind != Kind.CUSUM) {
            refuse(body, "slack", "cusum");
            refuse(body, "decision", "cusum");
        } else {
            refuse(body, "limit", "individuals and ewma");
        }
    }

    private static void refuse(Fields body, String name, String chart) {
        if (body.has(name)) {
            body.fault(name, "`" + name + "` belongs to the chart " + chart + ". Leave it out here.");
        }
    }

    private static Optional<String> undefined(Kind kind, double[] baseline, Settings settings) {
        boolean limitsSent = kind == Kind.CUSUM && settings.slack().isPresent() && settings.decision().isPresent();
        if (settings.target().isEmpty() && baseline.length == 0) {
            return Optional.of("no value and no target: there is no centre");
        }
        if (settings.sigma().isEmpty() && !limitsSent && !ControlChart.tells(baseline)) {
            return Optional.of("the scatter is told from moving ranges, which need two values in the baseline; send more values, or sigma");
        }
        return Optional.empty();
    }

    /** What is known without the scatter; no points, since a point that cannot be judged must not read as one without a signal. */
    private static ObjectNode partly(double[] baseline, Settings settings, String why) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        Figures.put(node, "centre", settings.target().isPresent() ? settings.target() : Arrays.stream(baseline).average());
        Figures.put(node, "sigma", settings.sigma());
        return node.put("undefined", why);
    }

    private static ControlChart chart(Kind kind, double[] values, double[] baseline, Settings settings) {
        return switch (kind) {
            case INDIVIDUALS -> ControlChart.individuals(values, baseline, settings);
            case EWMA -> ControlChart.ewma(values, baseline, settings);
            case CUSUM -> ControlChart.cusum(values, baseline, settings);
        };
    }

    private static ObjectNode toWire(ControlChart chart) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        Figures.put(node, "centre", chart.centre());
        Figures.put(node, "sigma", chart.sigma());
        Figures.put(node, "lower", chart.lower());
        Figures.put(node, "upper", chart.upper());
        ArrayNode points = node.putArray("points");
        for (ControlChart.Point point : chart.points()) {
            ObjectNode one = points.addObject().put("value", point.value());
            Figures.put(one, "statistic", point.statistic());
            Figures.put(one, "high", point.high());
            Figures.put(one, "low", point.low());
            Figures.put(one, "lower", point.lower());
            Figures.put(one, "upper", point.upper());
            one.put("signal", point.signal());
        }
        ArrayNode signals = node.putArray("signals");
        chart.signals().forEach(signals::add);
        return node;
    }
}
