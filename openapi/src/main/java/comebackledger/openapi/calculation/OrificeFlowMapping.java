package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import comebackledger.air.FreeAir;
import comebackledger.air.OrificeFlow;
import comebackledger.air.PressureDrop;
import comebackledger.measure.Kind;
import comebackledger.measure.Quantity;
import comebackledger.openapi.Fields;
import java.util.Optional;

/** {@code POST /v1/calculations/orifice-flow}: the air through one round hole. */
public final class OrificeFlowMapping {
    private static final double USUAL_COEFFICIENT = 0.65; // common practice, no source
    private static final double MOST_GAUGE_PA = 4e6;

    private OrificeFlowMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault */
    public static JsonNode answer(Fields body) {
        Optional<Quantity> diameter = body.required("diameter", body.quantity("diameter", Kind.LENGTH));
        double coefficient = body.number("dischargeCoefficient", 0.01, 1).orElse(USUAL_COEFFICIENT);
        Optional<Quantity> upstream = body.required("upstreamPressure", body.quantity("upstreamPressure", Kind.PRESSURE));
        Optional<Quantity> downstream = body.quantity("downstreamPressure", Kind.PRESSURE);
        Optional<Quantity> ambient = body.quantity("ambientPressure", Kind.PRESSURE);
        Optional<Quantity> temperature = body.quantity("temperature", Kind.TEMPERATURE);
        double ambientPa = ambient.map(Quantity::si).orElse(FreeAir.REFERENCE_PA);
        double upstreamPa = ambientPa + upstream.map(Quantity::si).orElse(0.0);
        double downstreamPa = ambientPa + downstream.map(Quantity::si).orElse(0.0);
        double kelvin = temperature.map(Quantity::si).orElse(FreeAir.REFERENCE_KELVIN);
        check(body, ambientPa, upstreamPa, downstreamPa, kelvin);
        body.refuseUnknown();
        body.faults().throwIfAny();
        PressureDrop drop = new PressureDrop(upstreamPa, downstreamPa, kelvin);
        double area = OrificeFlow.effectiveAreaM2(diameter.orElseThrow().si(), coefficient);
        double mass = OrificeFlow.massFlowKgPerS(area, drop);
        return JsonNodeFactory.instance.objectNode().put("massFlowKgPerS", mass).put("freeAirLitresPerMinute", FreeAir.litresPerMinute(mass))
                .put("regime", drop.choked() ? "choked" : "subsonic").put("criticalRatio", OrificeFlow.CRITICAL_RATIO);
    }

    private static void check(Fields body, double ambientPa, double upstreamPa, double downstreamPa, double kelvin) {
        if (!(ambientPa >= 1e4 && ambientPa <= 2e5)) {
            body.fault("ambientPressure", "The ambient pressure is absolute and must be from 10 to 200 kPa.");
        }
        if (!(upstreamPa > 0 && upstreamPa <= ambientPa + MOST_GAUGE_PA)) {
            body.fault("upstreamPressure", "The upstream pressure is gauge; it must leave more than a vacuum and be at most 4 MPa.");
        }
        if (!(downstreamPa >= 0 && downstreamPa <= upstreamPa)) {
            body.fault("downstreamPressure",
                    "The downstream pressure is gauge; it must be at least a vacuum and at most the upstream pressure: air flows down.");
        }
        if (!(kelvin >= 200 && kelvin <= 600)) {
            body.fault("temperature", "The temperature must be from -73 to 327 degC, where the ratio of specific heats of air is constant.");
        }
    }
}
