package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.fleet.Patterns;
import comebackledger.ledger.PlannerDesk;

/** {@code GET /v1/fleet/patterns}: what the units that fail have in common. */
public final class PatternsMapping {
    private PatternsMapping() {}

    public static ObjectNode toWire(PlannerDesk.Answer<Patterns> answer) {
        ObjectNode node = FleetMapping.answer(answer);
        ArrayNode items = node.putArray("items");
        for (Patterns.Item item : answer.content().items()) {
            ObjectNode row = items.addObject();
            row.putObject("factor").put("tag", item.factor().tag()).put("value", item.factor().value());
            row.put("system", item.system()).put("units", item.units()).put("episodes", item.episodes());
            FleetMapping.put(row, "rateRatio", item.rateRatio());
            row.put("low", item.low());
            FleetMapping.put(row, "high", item.high());
            row.put("qValue", item.qValue());
            if (item.rateRatio().isEmpty()) {
                row.put("undefined", "rateRatio, high: the units without the tag have had no episode");
            }
        }
        return node;
    }

    public static ArrayNode rows(PlannerDesk.Answer<Patterns> answer) {
        return (ArrayNode) toWire(answer).path("items");
    }
}
