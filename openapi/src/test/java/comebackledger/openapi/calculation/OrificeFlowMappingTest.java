package comebackledger.openapi.calculation;

import static comebackledger.openapi.calculation.AirCases.body;
import static comebackledger.openapi.calculation.AirCases.check;
import static comebackledger.openapi.calculation.AirCases.quantity;
import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The published cases through the shape of the wire. */
class OrificeFlowMappingTest {
    private static JsonNode answer(ObjectNode body) {
        return AirCases.answer(OrificeFlowMapping::answer, body);
    }

    private static List<String> faults(ObjectNode body) {
        return AirCases.faults(OrificeFlowMapping::answer, body);
    }

    static Stream<JsonNode> holes() {
        return AirCases.of("hole to flow");
    }

    @ParameterizedTest
    @MethodSource("holes")
    void holeToFlow_answersAsTheCase(JsonNode one) {
        JsonNode in = one.get("inputs");
        ObjectNode body = body().put("dischargeCoefficient", in.get("dischargeCoefficient").doubleValue());
        body.set("diameter", quantity(in, "orificeMm", "mm"));
        body.set("upstreamPressure", quantity(in, "upstreamGaugePsi", "psi"));
        body.set("temperature", quantity(in, "celsius", "degC"));
        body.set("ambientPressure", quantity(in, "ambientKPa", "kPa"));

        JsonNode answer = answer(body);

        check(one, "massFlowKgPerS", answer.get("massFlowKgPerS").doubleValue());
        check(one, "freeAirLitresPerMinute", answer.get("freeAirLitresPerMinute").doubleValue());
        assertEquals(one.get("expected").get("regime"), answer.get("regime"), one.get("id").textValue());
        assertEquals(0.528282, answer.get("criticalRatio").doubleValue(), 1e-6, "AIR-K01");
    }

    static Stream<JsonNode> handbook() {
        return AirCases.of("printed table of orifice discharge");
    }

    @ParameterizedTest
    @MethodSource("handbook")
    void handbook_answersAsTheCase(JsonNode one) {
        JsonNode in = one.get("inputs");
        String[] fraction = in.get("orificeInch").textValue().split("/", 2);
        ObjectNode body = body().put("dischargeCoefficient", 1);
        body.set("diameter", quantity(Double.parseDouble(fraction[0]) / Double.parseDouble(fraction[1]), "in"));
        body.set("upstreamPressure", quantity(in, "gaugePsi", "psi"));
        body.set("temperature", quantity(in.get("upstreamRankine").doubleValue() - 459.67, "degF"));
        body.set("ambientPressure", quantity(in, "ambientPsia", "psi"));

        double mass = answer(body).get("massFlowKgPerS").doubleValue();

        check(one, "freeAirCubicFeetPerMinute", mass * 60 / 0.45359237 / in.get("freeAirPoundPerCubicFoot").doubleValue());
    }

    static Stream<JsonNode> small() {
        return AirCases.of("small reference hole at low pressure");
    }

    @ParameterizedTest
    @MethodSource("small")
    void smallHole_answersAsTheCase(JsonNode one) {
        JsonNode in = one.get("inputs");
        ObjectNode body = body();
        body.set("diameter", quantity(in, "orificeInch", "in"));
        body.set("upstreamPressure", quantity(in, "inchesOfWater", "inH2O"));

        check(one, "freeAirLitresPerMinuteAt065", answer(body).get("freeAirLitresPerMinute").doubleValue());
        check(one, "freeAirLitresPerMinuteAt100", answer(body.put("dischargeCoefficient", 1)).get("freeAirLitresPerMinute").doubleValue());
    }

    /** AIR-E09 against a counter-pressure: choked flow does not feel it, and without a drop nothing flows. */
    @Test
    void downstreamPressure_isGauge() {
        ObjectNode body = body();
        body.set("diameter", quantity(2, "mm"));
        body.set("upstreamPressure", quantity(40, "psi"));
        double open = answer(body).get("massFlowKgPerS").doubleValue();
        body.set("downstreamPressure", quantity(10, "psi"));
        double choked = answer(body).get("massFlowKgPerS").doubleValue();
        body.set("downstreamPressure", quantity(40, "psi"));
        JsonNode none = answer(body);

        assertEquals(0.00181775, open, 1e-5);
        assertEquals(open, choked, 1e-15);
        assertEquals(0, none.get("massFlowKgPerS").doubleValue());
        assertEquals("subsonic", none.get("regime").textValue());
    }

    @Test
    void faults_areAllNamedAtOnce() {
        ObjectNode body = body().put("dischargeCoefficient", 2).put("surprise", true);
        body.set("diameter", quantity(-1, "mm"));
        body.set("upstreamPressure", quantity(40, "L/min"));
        body.set("temperature", quantity(-300, "degC"));

        assertEquals(List.of("/diameter/value", "/dischargeCoefficient", "/surprise", "/temperature/value", "/upstreamPressure/unit"), faults(body));
    }

    @Test
    void downstreamAboveUpstream_isAFault() {
        ObjectNode body = body();
        body.set("diameter", quantity(2, "mm"));
        body.set("upstreamPressure", quantity(10, "psi"));
        body.set("downstreamPressure", quantity(11, "psi"));

        assertEquals(List.of("/downstreamPressure"), faults(body));
    }

    @Test
    void nothingSent_namesWhatIsNeeded() {
        assertEquals(List.of("/diameter", "/upstreamPressure"), faults(body()));
    }
}
