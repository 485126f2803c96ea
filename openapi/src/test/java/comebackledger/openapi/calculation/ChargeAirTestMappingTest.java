package comebackledger.openapi.calculation;

import static comebackledger.openapi.calculation.AirCases.body;
import static comebackledger.openapi.calculation.AirCases.check;
import static comebackledger.openapi.calculation.AirCases.quantity;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The published cases through the shape of the wire. */
class ChargeAirTestMappingTest {
    private static JsonNode answer(ObjectNode body) {
        return AirCases.answer(ChargeAirTestMapping::answer, body);
    }

    private static List<String> faults(ObjectNode body) {
        return AirCases.faults(ChargeAirTestMapping::answer, body);
    }

    private static double value(JsonNode answer, String name) {
        return answer.get(name).get("value").doubleValue();
    }

    private static ObjectNode held(double psi, double litresPerMinute) {
        ObjectNode body = body().put("method", "held-flow");
        body.set("testPressure", quantity(psi, "psi"));
        body.set("flow", quantity(litresPerMinute, "L/min"));
        return body;
    }

    private static ObjectNode held(JsonNode in, String temperature) {
        ObjectNode body = body().put("method", "held-flow").put("flowReference", "free-air");
        body.set("testPressure", quantity(in, "testGaugePsi", "psi"));
        body.set("flow", quantity(in, "freeAirLitresPerMinute", "L/min"));
        body.set("airTemperature", quantity(in, temperature, "degC"));
        body.set("ambientPressure", quantity(in, "ambientKPa", "kPa"));
        return body;
    }

    private static ObjectNode hold(JsonNode in, JsonNode run) {
        ObjectNode body = body().put("method", "hold-down");
        body.set("volume", quantity(in, "volumeLitres", "L"));
        timed(body, run);
        body.set("ambientPressure", quantity(in, "ambientKPa", "kPa"));
        if (in.has("celsius")) {
            body.set("airTemperature", quantity(in, "celsius", "degC"));
        }
        return body;
    }

    private static ObjectNode timed(ObjectNode body, JsonNode run) {
        body.set("startPressure", quantity(run, "startGaugePsi", "psi"));
        body.set("endPressure", quantity(run, "endGaugePsi", "psi"));
        body.set("duration", quantity(run, "seconds", "s"));
        return body;
    }

    private static ObjectNode engine() {
        ObjectNode engine = body().put("ratedSpeedRpm", 1500).put("volumetricEfficiency", 0.92).put("strokes", 4);
        engine.set("displacement", quantity(12.8, "L"));
        return engine;
    }

    static Stream<JsonNode> heldFlows() {
        return AirCases.of("held flow to hole, and the loss at rated boost");
    }

    @ParameterizedTest
    @MethodSource("heldFlows")
    void heldFlow_answersAsTheCase(JsonNode one) {
        JsonNode in = one.get("inputs");
        ObjectNode body = held(in, "testCelsius").put("dischargeCoefficient", in.get("dischargeCoefficient").doubleValue());
        body.set("ratedBoost", quantity(in, "ratedGaugePsi", "psi"));
        body.set("chargeTemperature", quantity(in, "chargeCelsius", "degC"));

        JsonNode answer = answer(body);

        check(one, "effectiveAreaMm2", value(answer, "effectiveAreaMm2"));
        check(one, "orificeMm", value(answer, "orificeMm"));
        check(one, "sonicConductanceM3PerSPa", value(answer, "sonicConductanceM3PerSPa"));
        check(one, "ratedMassFlowKgPerS", value(answer.get("atRatedBoost"), "massFlowKgPerS"));
        check(one, "ratedFreeAirLitresPerMinute", value(answer.get("atRatedBoost"), "freeAirLitresPerMinute"));
        assertEquals("unjudged", answer.get("verdict").textValue());
        assertTrue(answer.get("undefined").textValue().contains("engine"));
    }

    static Stream<JsonNode> heldBackgrounds() {
        return AirCases.of("background leak of the test set-up taken off");
    }

    @ParameterizedTest
    @MethodSource("heldBackgrounds")
    void heldBackground_answersAsTheCase(JsonNode one) {
        JsonNode in = one.get("inputs");
        ObjectNode body = held(in, "celsius");
        ObjectNode background = body.putObject("background");
        background.set("flow", quantity(in, "backgroundLitresPerMinute", "L/min"));
        background.set("testPressure", quantity(in, "backgroundGaugePsi", "psi"));

        check(one, "effectiveAreaMm2", value(answer(body), "effectiveAreaMm2"));
        if (in.get("backgroundGaugePsi").equals(in.get("testGaugePsi"))) {
            background.remove("testPressure");
            check(one, "effectiveAreaMm2", value(answer(body), "effectiveAreaMm2"));
        }
    }

    static Stream<JsonNode> holdDowns() {
        return AirCases.of("hold-down to hole, constant temperature");
    }

    @ParameterizedTest
    @MethodSource("holdDowns")
    void holdDown_answersAsTheCase(JsonNode one) {
        JsonNode answer = answer(hold(one.get("inputs"), one.get("inputs")));

        check(one, "averageMassFlowKgPerS", value(answer, "massFlowKgPerS"));
        check(one, "effectiveAreaMm2", value(answer, "effectiveAreaMm2"));
        check(one, "orificeMmAt065", value(answer, "orificeMm"));
    }

    static Stream<JsonNode> drifting() {
        return AirCases.of("hold-down with a temperature that drifts evenly");
    }

    @ParameterizedTest
    @MethodSource("drifting")
    void driftingHoldDown_answersAsTheCase(JsonNode one) {
        JsonNode in = one.get("inputs");
        ObjectNode body = hold(in, in);
        body.set("startTemperature", quantity(in, "startCelsius", "degC"));
        body.set("endTemperature", quantity(in, "endCelsius", "degC"));

        JsonNode answer = answer(body);

        check(one, "averageMassFlowKgPerS", value(answer, "massFlowKgPerS"));
        check(one, "effectiveAreaMm2", value(answer, "effectiveAreaMm2"));
    }

    static Stream<JsonNode> sealed() {
        return AirCases.of("sealed volume that only changes temperature");
    }

    /** Ten minutes: over one, the rounding of the printed pressure is itself 1.3e-9 kg/s. */
    @ParameterizedTest
    @MethodSource("sealed")
    void sealedVolume_hasNoLeak(JsonNode one) {
        JsonNode in = one.get("inputs");
        ObjectNode body = body().put("method", "hold-down");
        body.set("volume", quantity(20, "L"));
        body.set("startPressure", quantity(in, "startGaugePsi", "psi"));
        body.set("endPressure", quantity(one.get("expected"), "endGaugePsi", "psi"));
        body.set("duration", quantity(600, "s"));
        body.set("startTemperature", quantity(in.get("startCelsius").doubleValue(), "degC"));
        body.set("endTemperature", quantity(in.get("endCelsius").doubleValue(), "degC"));

        JsonNode answer = answer(body);

        assertEquals(0, value(answer, "massFlowKgPerS"), 1e-9, one.get("id").textValue());
        assertTrue(value(answer, "orificeMm") <= answer.get("orificeMm").get("standardUncertainty").doubleValue());
    }

    static Stream<JsonNode> holdBackgrounds() {
        return AirCases.of("hold-down with the background leak of the test set-up taken off");
    }

    @ParameterizedTest
    @MethodSource("holdBackgrounds")
    void holdBackground_answersAsTheCase(JsonNode one) {
        JsonNode in = one.get("inputs");
        ObjectNode body = hold(in, in.get("test"));
        timed(body.putObject("background"), in.get("background"));

        check(one, "effectiveAreaMm2", value(answer(body), "effectiveAreaMm2"));
        check(one, "backgroundAreaMm2", value(answer(hold(in, in.get("background"))), "effectiveAreaMm2"));
    }

    static Stream<JsonNode> floatMeters() {
        return AirCases.of("float meter marked for air at 0 psig and 20 C, used under pressure");
    }

    /** The mass flow, in free air: 1.20410 kg/m3 at 20 degC and 101.325 kPa by the case's gas constant. */
    @ParameterizedTest
    @MethodSource("floatMeters")
    void floatMeter_answersAsTheCase(JsonNode one) {
        JsonNode in = one.get("inputs");
        ObjectNode body = held(20, in.get("indicatedLitresPerMinute").doubleValue()).put("flowReference", "float-meter-under-pressure");
        body.set("meterPressure", quantity(in, "meterGaugePsi", "psi"));
        body.set("airTemperature", quantity(in, "celsius", "degC"));

        check(one, "freeAirLitresPerMinute", value(answer(body), "massFlowKgPerS") / (101_325 / (287.05 * 293.15)) * 60e3);
    }

    static Stream<JsonNode> engines() {
        return AirCases.of("engine air, and the share a leak takes");
    }

    /** The leak of the case by a mass flow meter at 100 kPa, choked: effective area times 0.684731 p/sqrt(R T), AIR-K02. */
    @ParameterizedTest
    @MethodSource("engines")
    void shareOfEngineAir_answersAsTheCase(JsonNode one) {
        JsonNode in = one.get("inputs");
        double flow = in.get("effectiveAreaMm2").doubleValue() * 1e-6 * 0.684731 * 201_325 / Math.sqrt(287.05 * 293.15);
        ObjectNode body = body().put("method", "held-flow");
        body.set("testPressure", quantity(100, "kPa"));
        body.set("flow", quantity(1e3 * flow, "g/s"));
        body.set("ratedBoost", quantity(in, "boostGaugePsi", "psi"));
        body.set("chargeTemperature", quantity(in, "chargeCelsius", "degC"));
        ObjectNode engine = body.putObject("engine").put("ratedSpeedRpm", in.get("revolutionsPerMinute").doubleValue())
                .put("volumetricEfficiency", in.get("volumetricEfficiency").doubleValue()).put("strokes", in.get("strokes").intValue());
        engine.set("displacement", quantity(in, "displacementLitres", "L"));

        JsonNode answer = answer(body);

        check(one, "leakKgPerS", value(answer.get("atRatedBoost"), "massFlowKgPerS"));
        check(one, "shareOfEngineAir", value(answer.get("atRatedBoost"), "shareOfEngineAir"));
        assertEquals("within", answer.get("verdict").textValue());
        assertTrue(answer.get("grounds").textValue().contains("% of the engine's air"));
    }

    static Stream<JsonNode> uncertain() {
        return AirCases.of("uncertainty of a held-flow result, choked", "uncertainty of a held-flow result, subsonic",
                "uncertainty of a hold-down, large drop", "uncertainty of a hold-down, drop near the gauge resolution");
    }

    @ParameterizedTest
    @MethodSource("uncertain")
    void statedUncertainty_isPropagatedAsInTheCase(JsonNode one) {
        JsonNode in = one.get("inputs");
        JsonNode answer = answer(in.has("volumeLitres") ? holdWithUncertainty(in) : held(in, "testCelsius"));

        check(one, "effectiveAreaMm2", value(answer, "effectiveAreaMm2"));
        check(one, "standardUncertaintyMm2", answer.get("effectiveAreaMm2").get("standardUncertainty").doubleValue());
    }

    private static ObjectNode holdWithUncertainty(JsonNode in) {
        ObjectNode body = hold(in, in);
        body.set("airTemperature", quantity(in, "celsius", "degC"));
        return body;
    }

    static Stream<JsonNode> energies() {
        return AirCases.of("energy stored in the test volume");
    }

    @ParameterizedTest
    @MethodSource("energies")
    void storedEnergy_isThatOfTheVolume(JsonNode one) {
        JsonNode in = one.get("inputs");
        ObjectNode body = held(in.get("gaugePsi").doubleValue(), 30);
        body.set("volume", quantity(in, "volumeLitres", "L"));

        check(one, "isentropicExpansionJ", answer(body).get("storedEnergyJ").doubleValue());
    }

    /** AIR-J05000: 5000 ft of the standard atmosphere are 84.3073 kPa. */
    @Test
    void altitude_standsForItsAmbientPressure() {
        ObjectNode low = held(15, 22);
        low.set("ambientPressure", quantity(84.3073, "kPa"));
        ObjectNode high = held(15, 22);
        high.set("altitude", quantity(5000, "ft"));

        assertEquals(value(answer(low), "orificeMm"), value(answer(high), "orificeMm"), 1e-5);
    }

    /** ANR air is 1.185 kg/m3 and free air 1.2041: the same reading is 1.6 % less of it. */
    @Test
    void flowReference_changesTheFlowByItsDensity() {
        double free = value(answer(held(15, 22)), "massFlowKgPerS");
        double anr = value(answer(held(15, 22).put("flowReference", "anr")), "massFlowKgPerS");

        assertEquals(1.185 / 1.2041, anr / free, 1e-4);
    }

    @Test
    void unitSystems_agree() {
        ObjectNode trade = held(15, 22);
        trade.set("airTemperature", quantity(68, "degF"));
        trade.set("ratedBoost", quantity(30, "psi"));
        trade.set("engine", engine());
        ObjectNode metric = body().put("method", "held-flow");
        metric.set("testPressure", quantity(15 * 0.06894757293168361, "bar"));
        metric.set("flow", quantity(22 * 0.06, "m3/h"));
        metric.set("airTemperature", quantity(293.15, "K"));
        metric.set("ratedBoost", quantity(30 * 6.894757293168361, "kPa"));
        metric.set("engine", engine());

        JsonNode first = answer(trade);
        JsonNode second = answer(metric);

        assertEquals(first.get("verdict"), second.get("verdict"));
        for (String name : List.of("massFlowKgPerS", "effectiveAreaMm2", "orificeMm", "sonicConductanceM3PerSPa")) {
            assertEquals(value(first, name), value(second, name), 1e-12 + 1e-9 * value(first, name), name);
            assertEquals(first.get(name).get("standardUncertainty").doubleValue(), second.get(name).get("standardUncertainty").doubleValue(),
                    1e-9 * value(first, name), name);
        }
    }

    @Test
    void answer_hasTheWiresNames() {
        ObjectNode body = held(15, 22);
        body.set("ratedBoost", quantity(30, "psi"));
        body.set("engine", engine());
        body.set("volume", quantity(20, "L"));

        Set<String> names = new TreeSet<>();
        answer(body).fieldNames().forEachRemaining(names::add);

        assertEquals(new TreeSet<>(Set.of("verdict", "regime", "massFlowKgPerS", "effectiveAreaMm2", "orificeMm", "sonicConductanceM3PerSPa",
                "atRatedBoost", "orificeLimitMm", "storedEnergyJ", "grounds", "cautions")), names);
    }

    /** The standard uncertainties that the rules assume: 1 % and 0.5 kPa, 2.5 % and 0.2 L/min, 2 K, 0.5 kPa. */
    @Test
    void uncertaintyNotStated_isTheInstrumentsDefault() {
        ObjectNode stated = body().put("method", "held-flow");
        stated.set("testPressure", quantity(100, "kPa").put("standardUncertainty", 1.5));
        stated.set("flow", quantity(40, "L/min").put("standardUncertainty", 1.2));
        stated.set("airTemperature", quantity(20, "degC").put("standardUncertainty", 2));
        stated.set("ambientPressure", quantity(101.325, "kPa").put("standardUncertainty", 0.5));
        ObjectNode silent = body().put("method", "held-flow");
        silent.set("testPressure", quantity(100, "kPa"));
        silent.set("flow", quantity(40, "L/min"));

        assertEquals(answer(stated).get("effectiveAreaMm2").get("standardUncertainty").doubleValue(),
                answer(silent).get("effectiveAreaMm2").get("standardUncertainty").doubleValue(), 1e-9);
    }

    /** Both ends read: they err by themselves. One end read: it is the temperature that the air stayed at. */
    @Test
    void endTemperatureAlone_isNoDrift() {
        ObjectNode body = body().put("method", "hold-down");
        body.set("volume", quantity(20, "L"));
        body.set("startPressure", quantity(30, "psi"));
        body.set("endPressure", quantity(25, "psi"));
        body.set("duration", quantity(15, "s"));
        double plain = value(answer(body), "effectiveAreaMm2");
        body.set("endTemperature", quantity(40, "degC"));
        double warm = value(answer(body), "effectiveAreaMm2");
        body.set("startTemperature", quantity(40, "degC"));
        JsonNode both = answer(body);

        assertEquals(plain * Math.sqrt(293.15 / 313.15), warm, 1e-6);
        assertEquals(warm, value(both, "effectiveAreaMm2"), 1e-9);
        assertTrue(both.get("effectiveAreaMm2").get("standardUncertainty").doubleValue() > 0.1);
    }

    @Test
    void impossibleReadings_areInvalidWithoutSize() {
        for (double psi : new double[]{0, -2}) {
            JsonNode answer = answer(held(psi, 22));

            assertEquals("invalid", answer.get("verdict").textValue());
            assertFalse(answer.has("orificeMm"));
            assertTrue(answer.get("undefined").textValue().contains("not above ambient"));
        }
        ObjectNode background = held(15, 5);
        background.putObject("background").set("flow", quantity(10, "L/min"));
        assertEquals("invalid", answer(background).get("verdict").textValue());
    }

    @Test
    void faults_areAllNamedAtOnce() {
        ObjectNode body = body().put("method", "hold-down").put("surprise", 1);
        body.set("volume", quantity(0, "L"));
        body.set("startPressure", quantity(30, "ohm"));
        body.set("duration", quantity(0, "s"));
        body.putObject("background").put("colour", "red");
        body.putObject("engine").put("strokes", 3);

        assertEquals(List.of("/background/colour", "/duration/value", "/endPressure", "/engine/strokes", "/startPressure/unit", "/surprise",
                "/volume/value"), faults(body));
    }

    @Test
    void whatAMethodNeeds_isNamed() {
        assertEquals(List.of("/flow", "/testPressure"), faults(body().put("method", "held-flow")));
        assertEquals(List.of("/duration", "/endPressure", "/startPressure", "/volume"), faults(body().put("method", "hold-down")));
        assertEquals(List.of("/leaksAt"), faults(body().put("method", "smoke")));
        assertEquals(List.of("/method"), faults(body()));
        assertEquals(List.of("/method"), faults(body().put("method", "guess")));
    }

    @Test
    void smoke_isOutsideWhereALeakIsSeen() {
        ObjectNode seen = body().put("method", "smoke");
        seen.putArray("leaksAt").add("cooler-outlet-boot");
        ObjectNode none = body().put("method", "smoke");
        none.putArray("leaksAt");

        assertEquals("outside", answer(seen).get("verdict").textValue());
        assertEquals("within", answer(none).get("verdict").textValue());
    }
}
