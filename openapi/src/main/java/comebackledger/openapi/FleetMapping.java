package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.fleet.Measure;
import comebackledger.ledger.PlannerDesk;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

/** What the planner's answers have in common on the wire. */
public final class FleetMapping {
    /** The measures by their words. */
    public static final Map<String, Measure> MEASURES = Arrays.stream(Measure.values())
            .collect(Collectors.toUnmodifiableMap(Measure::word, one -> one));

    /** Points of one curve; a longer one is thinned evenly, its last point kept. Common practice, no source. */
    static final int POINTS_AT_MOST = 2_000;

    private FleetMapping() {}

    static ObjectNode answer(PlannerDesk.Answer<?> answer) {
        return JsonNodeFactory.instance.objectNode().put("asOf", answer.asOf().toString()).put("policyVersion", answer.policyVersion())
                .put("baselineVersion", answer.baselineVersion());
    }

    static void put(ObjectNode node, String name, OptionalDouble value) {
        value.ifPresent(number -> node.put(name, number));
    }

    /** Every point, or evenly chosen ones where there are too many. */
    public static <T> List<T> thinned(List<T> points) {
        if (points.size() <= POINTS_AT_MOST) {
            return points;
        }
        List<T> kept = new ArrayList<>(POINTS_AT_MOST);
        for (int i = 0; i < POINTS_AT_MOST; i++) {
            kept.add(points.get((int) ((long) i * (points.size() - 1) / (POINTS_AT_MOST - 1))));
        }
        return kept;
    }
}
