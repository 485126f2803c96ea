package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Fields;
import comebackledger.stat.HoldComparison;
import comebackledger.stat.HoldCurve.Repair;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** {@code POST /v1/calculations/hold-comparison}: whether kinds of repairs hold alike. */
public final class HoldComparisonMapping {
    /** The work grows with the square of it. */
    static final int GROUPS_AT_MOST = 50;

    private record Group(String id, List<Repair> repairs) {}

    private HoldComparisonMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault */
    public static JsonNode answer(Fields body) {
        List<Optional<String>> ids = new ArrayList<>();
        List<Group> groups = body.list("groups", GROUPS_AT_MOST, fields -> group(fields, ids));
        body.required("groups", Optional.of(groups));
        Figures.refuseTwice(body, "groups", ids);
        if (groups.stream().mapToInt(group -> group.repairs().size()).sum() > Figures.ENTRIES_AT_MOST) {
            body.fault("groups", "All groups together have more than " + Figures.ENTRIES_AT_MOST + " repairs, the limit of one calculation.");
        }
        body.refuseUnknown();
        body.faults().throwIfAny();
        return toWire(groups.stream().map(Group::id).toList(), HoldComparison.of(groups.stream().map(Group::repairs).toList()));
    }

    private static Optional<Group> group(Fields fields, List<Optional<String>> ids) {
        Optional<String> id = fields.required("id", Figures.id(fields));
        ids.add(id);
        List<Repair> repairs = RepairHoldMapping.repairs(fields);
        return fields.build(() -> new Group(id.orElseThrow(), repairs));
    }

    /** @param ids of the groups, in the order of the comparison */
    public static ObjectNode toWire(List<String> ids, HoldComparison comparison) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        Figures.put(node, "chiSquare", comparison.chiSquare());
        if (comparison.degreesOfFreedom() > 0) {
            node.put("degreesOfFreedom", comparison.degreesOfFreedom());
        }
        Figures.put(node, "pValue", comparison.pValue());
        ArrayNode groups = node.putArray("groups");
        for (int i = 0; i < ids.size(); i++) {
            ObjectNode group = groups.addObject().put("id", ids.get(i));
            Figures.put(group, "observed", comparison.observed()[i]);
            Figures.put(group, "expected", comparison.expected()[i]);
        }
        if (comparison.chiSquare().isEmpty()) {
            node.put("undefined",
                    "fewer than two groups had repairs at risk while one returned: the variance is 0, and nothing can be compared");
        }
        return node;
    }
}
