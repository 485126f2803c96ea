package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.fleet.Offenders;
import comebackledger.ledger.PlannerDesk;
import comebackledger.trail.Flag;

/** {@code GET /v1/fleet/offenders}: the units that keep coming back. */
public final class OffendersMapping {
    private OffendersMapping() {}

    public static ObjectNode toWire(PlannerDesk.Answer<Offenders> answer) {
        ObjectNode node = FleetMapping.answer(answer);
        ArrayNode items = node.putArray("items");
        for (Offenders.Item item : answer.content().ranked()) {
            item(items.addObject(), item);
        }
        ArrayNode notRanked = node.putArray("notRanked");
        answer.content().notRanked().forEach(unit -> notRanked.addObject().put("unit", unit.unit()).put("why", unit.why()));
        answer.content().priorAbsent().ifPresent(why -> node.put("priorAbsent", why));
        return node;
    }

    private static void item(ObjectNode node, Offenders.Item item) {
        node.put("rank", item.rank()).put("unit", item.unit()).put("comebacks", item.comebacks()).put("episodes", item.episodes())
                .put("noFaultFound", item.noFaultFound());
        ObjectNode exposure = node.putObject("exposure");
        item.exposure().km().ifPresent(km -> exposure.put("km", km));
        exposure.put("days", item.exposure().days()).put("estimated", item.exposure().estimated());
        item.per100000Km().ifPresent(rate -> rate(node.putObject("ratePer100000Km"), rate));
        item.per1000Days().ifPresent(rate -> rate(node.putObject("ratePer1000Days"), rate));
        node.put("probabilityWorst", item.probabilityWorst()).put("probabilityAbovePeers", item.probabilityAbovePeers()).put("qValue", item.qValue());
        node.set("flags", TrailMapping.strings(item.flags().stream().map(Flag.Kind::word).toList()));
        node.set("reasons", TrailMapping.strings(item.reasons()));
    }

    private static void rate(ObjectNode node, Offenders.Rate rate) {
        node.put("crude", rate.crude()).put("posteriorMean", rate.posteriorMean()).put("low", rate.low()).put("high", rate.high());
    }

    /** The ranked units, then those that are not ranked with why. */
    public static ArrayNode rows(PlannerDesk.Answer<Offenders> answer) {
        ObjectNode node = toWire(answer);
        ArrayNode rows = node.arrayNode();
        rows.addAll((ArrayNode) node.path("items"));
        node.path("notRanked").forEach(rows::add);
        return rows;
    }
}
