package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.fleet.Holds;
import comebackledger.fleet.Measure;
import comebackledger.ledger.PlannerDesk;
import comebackledger.openapi.calculation.HoldComparisonMapping;
import comebackledger.openapi.calculation.RepairHoldMapping;

/** {@code GET /v1/fleet/repairs}: which repairs hold. */
public final class RepairsMapping {
    private RepairsMapping() {}

    public static ObjectNode toWire(PlannerDesk.Answer<Holds> answer, Measure measure) {
        ObjectNode node = FleetMapping.answer(answer).put("measure", measure.word());
        ArrayNode items = node.putArray("items");
        for (Holds.Item item : answer.content().items()) {
            ObjectNode row = row(items, item);
            row.set("curve", RepairHoldMapping.points(FleetMapping.thinned(item.curve().points())));
            FleetMapping.put(row, "median", item.curve().median());
            FleetMapping.put(row, "medianLow", item.curve().medianLow());
            FleetMapping.put(row, "medianHigh", item.curve().medianHigh());
        }
        node.set("comparison", HoldComparisonMapping.toWire(answer.content().actions(), answer.content().comparison()));
        return node;
    }

    private static ObjectNode row(ArrayNode items, Holds.Item item) {
        ObjectNode row = items.addObject().put("action", item.action());
        item.cause().ifPresent(cause -> row.put("cause", cause));
        return row.put("repairs", item.repairs()).put("returned", item.returned());
    }

    /** A row a point of each curve; a repair that nothing came back to has one row without a point. */
    public static ArrayNode rows(PlannerDesk.Answer<Holds> answer) {
        ArrayNode rows = FleetMapping.answer(answer).arrayNode();
        for (Holds.Item item : answer.content().items()) {
            ArrayNode points = RepairHoldMapping.points(FleetMapping.thinned(item.curve().points()));
            if (points.isEmpty()) {
                row(rows, item);
            }
            points.forEach(point -> row(rows, item).setAll(renamed(point.deepCopy())));
        }
        return rows;
    }

    /** The repairs that returned at the point, beside those that returned in all. */
    private static ObjectNode renamed(ObjectNode point) {
        point.set("returnedThen", point.remove("returned"));
        return point;
    }
}
