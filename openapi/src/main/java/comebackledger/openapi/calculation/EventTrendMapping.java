package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Words;
import comebackledger.stat.EventTrend;
import comebackledger.stat.EventTrend.Truncation;
import comebackledger.stat.PowerLaw;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** {@code POST /v1/calculations/event-trend}: whether the events of one unit come faster or slower. */
public final class EventTrendMapping {
    private static final Map<String, Truncation> TRUNCATIONS = Words.of(Truncation.values(), how -> how.name().toLowerCase(Locale.ROOT));

    private EventTrendMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault */
    public static JsonNode answer(Fields body) {
        double[] times = Figures.required(body, "eventTimes", 0);
        OptionalDouble until = body.number("observedUntil", 0, Figures.LARGEST);
        Optional<Truncation> truncation = body.required("truncation", body.word("truncation", TRUNCATIONS));
        double last = Arrays.stream(times).max().orElse(0);
        truncation.ifPresent(kind -> check(body, times, last, until, kind));
        body.refuseUnknown();
        body.faults().throwIfAny();
        return toWire(EventTrend.of(times, truncation.orElseThrow() == Truncation.TIME ? until.getAsDouble() : last, truncation.get()));
    }

    private static void check(Fields body, double[] times, double last, OptionalDouble until, Truncation truncation) {
        if (truncation == Truncation.TIME && !body.has("observedUntil")) {
            body.fault("observedUntil",
                    "`observedUntil` is missing. With truncation `time` the observation ends at a time of its own: send it. If it "
                            + "ended with the last event, send truncation `event`.");
        }
        if (truncation == Truncation.EVENT && times.length > 0 && until.isPresent() && until.getAsDouble() > last) {
            body.fault("observedUntil",
                    "With truncation `event` the observation ends with the last event, and `observedUntil` lies after it. Leave it out, "
                            + "or send truncation `time`.");
        }
        for (int i = 0; i < times.length && until.isPresent(); i++) {
            if (times[i] > until.getAsDouble()) {
                body.faults().add(body.pointer("eventTimes") + "/" + i,
                        "This event lies after `observedUntil`. Send events up to the end of observation.");
            }
        }
    }

    /** One unit's trend; also for answers that hold one among others. */
    public static ObjectNode toWire(EventTrend trend) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        List<String> reasons = new ArrayList<>();
        trend.laplace().ifPresent(test -> {
            ObjectNode laplace = node.putObject("laplace");
            Figures.put(laplace, "statistic", test.statistic());
            Figures.put(laplace, "pValue", test.pValue());
        });
        trend.militaryHandbook().ifPresent(test -> {
            ObjectNode handbook = node.putObject("militaryHandbook");
            Figures.put(handbook, "statistic", test.statistic());
            handbook.put("degreesOfFreedom", test.degreesOfFreedom());
            Figures.put(handbook, "pValue", test.pValue());
        });
        trend.reverseArrangements().ifPresent(
                test -> node.putObject("reverseArrangements").put("count", test.count()).put("pValue", test.pValue()).put("method", test.method()));
        trend.undefined().ifPresent(reasons::add);
        trend.powerLaw().ifPresent(law -> reasons.addAll(powerLaw(node.putObject("powerLaw"), law)));
        Figures.undefined(node, reasons);
        return node;
    }

    private static List<String> powerLaw(ObjectNode node, PowerLaw law) {
        Figures.put(node, "shape", law.shape());
        Figures.put(node, "shapeUnbiased", law.shapeUnbiased());
        Figures.put(node, "scale", law.scale());
        Figures.put(node, "shapeLow", law.shapeLow());
        Figures.put(node, "shapeHigh", law.shapeHigh());
        Figures.put(node, "cramerVonMises", law.cramerVonMises());
        Figures.put(node, "meanBetweenEventsAtEnd", law.meanBetweenEventsAtEnd());
        Figures.put(node, "meanBetweenEventsAtEndLow", law.meanBetweenEventsAtEndLow());
        Figures.put(node, "meanBetweenEventsAtEndHigh", law.meanBetweenEventsAtEndHigh());
        List<String> reasons = Figures.missing(node, "shapeUnbiased", "too few events for a corrected shape", "scale", "beyond the range of numbers",
                "meanBetweenEventsAtEndHigh", "a single event bounds the rate from one side only");
        Figures.undefined(node, reasons);
        return reasons;
    }
}
