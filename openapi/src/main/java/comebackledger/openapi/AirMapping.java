package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.air.ChargeAirResult;
import comebackledger.measure.Measured;

/** What a charge-air test says, to the wire. */
public final class AirMapping {
    private AirMapping() {}

    public static ObjectNode toWire(ChargeAirResult result) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("verdict", result.verdict().word());
        result.undefined().ifPresent(why -> node.put("undefined", why));
        result.regime().ifPresent(regime -> node.put("regime", regime.word()));
        result.massFlowKgPerS().ifPresent(value -> measured(node, "massFlowKgPerS", value));
        result.effectiveAreaMm2().ifPresent(value -> measured(node, "effectiveAreaMm2", value));
        result.orificeMm().ifPresent(value -> measured(node, "orificeMm", value));
        result.sonicConductanceM3PerSPa().ifPresent(value -> measured(node, "sonicConductanceM3PerSPa", value));
        result.atRatedBoost().ifPresent(rated -> {
            ObjectNode item = node.putObject("atRatedBoost");
            measured(item, "massFlowKgPerS", rated.massFlowKgPerS());
            measured(item, "freeAirLitresPerMinute", rated.freeAirLitresPerMinute());
            rated.shareOfEngineAir().ifPresent(share -> measured(item, "shareOfEngineAir", share));
        });
        result.orificeLimitMm().ifPresent(limit -> node.put("orificeLimitMm", limit));
        result.storedEnergyJ().ifPresent(energy -> node.put("storedEnergyJ", energy));
        result.grounds().ifPresent(grounds -> node.put("grounds", grounds));
        node.set("cautions", TrailMapping.strings(result.cautions()));
        return node;
    }

    static void measured(ObjectNode node, String name, Measured value) {
        node.putObject(name).put("value", value.value()).put("standardUncertainty", value.standardUncertainty());
    }
}
