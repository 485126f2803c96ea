package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.fleet.Measure;
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
        node.putObject(item.per() == Measure.KM ? "ratePer100000Km" : "ratePer1000Days").put("crude", item.rate().crude())
                .put("posteriorMean", item.rate().posteriorMean()).put("low", item.rate().low()).put("high", item.rate().high());
        node.put("probabilityWorst", item.probabilityWorst()).put("probabilityAbovePeers", item.probabilityAbovePeers()).put("qValue", item.qValue());
        node.set("flags", TrailMapping.strings(item.flags().stream().map(Flag.Kind::word).toList()));
        node.set("reasons", TrailMapping.strings(item.reasons()));
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
