package comebackledger.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class BusModelTest {
    @TestFactory
    Stream<DynamicTest> readings_agreeWithPublishedResistances() {
        return Cases.of("can_resistance").map(testCase -> DynamicTest.dynamicTest(Cases.name(testCase), () -> {
            JsonNode inputs = testCase.get("inputs");
            BusModel.Meter meter = new BusModel.Meter(false, 0, inputs.at("/meter/leadOhm").doubleValue(), Optional.empty());

            Predicted predicted = BusModel.readings(Cases.circuit(inputs.get("network")), Cases.faults(inputs.get("faults")), meter);

            assertReadings(testCase, predicted);
        }));
    }

    @TestFactory
    Stream<DynamicTest> readings_agreeWithPublishedRestingVoltages() {
        return Cases.of("can_voltage").filter(testCase -> testCase.get("inputs").has("network"))
                .map(testCase -> DynamicTest.dynamicTest(Cases.name(testCase), () -> {
                    JsonNode inputs = testCase.get("inputs");
                    BusModel.Meter meter = new BusModel.Meter(true, inputs.get("supplyVolt").doubleValue(), 0, Optional.empty());

                    Predicted predicted = BusModel.readings(Cases.circuit(inputs.get("network")), Cases.faults(inputs.get("faults")), meter);

                    assertReadings(testCase, predicted);
                }));
    }

    /** The wire that stands in for an untold one is called 18 AWG: it is that of the copper tables, to the digit it is written with. */
    @TestFactory
    Stream<DynamicTest> untoldWire_isThatOfTheCopperTables() {
        return Cases.of("wire").map(testCase -> DynamicTest.dynamicTest(Cases.name(testCase),
                () -> assertValue(testCase, "ohmPerMetre", Scene.WIRE_OHM_PER_METRE)));
    }

    private static void assertReadings(JsonNode testCase, Predicted predicted) {
        Iterator<Map.Entry<String, JsonNode>> expected = testCase.get("expected").fields();
        while (expected.hasNext()) {
            String field = expected.next().getKey();
            double got = switch (field) {
                case "highLowOhm" -> predicted.highLowOhm();
                case "highGroundOhm" -> predicted.highGroundOhm();
                case "lowGroundOhm" -> predicted.lowGroundOhm();
                case "highSupplyOhm" -> predicted.highSupplyOhm();
                case "lowSupplyOhm" -> predicted.lowSupplyOhm();
                case "highVolt" -> predicted.highVolt().orElseThrow();
                case "lowVolt" -> predicted.lowVolt().orElseThrow();
                case "differenceVolt" -> predicted.highVolt().orElseThrow() - predicted.lowVolt().orElseThrow();
                default -> throw new IllegalStateException(field);
            };
            assertValue(testCase, field, got);
        }
    }

    private static void assertValue(JsonNode testCase, String field, double got) {
        JsonNode expected = testCase.get("expected").get(field);
        if (expected.isTextual()) {
            assertTrue(Predicted.isOpen(got), () -> field + " should be open, was " + got);
        } else {
            assertEquals(expected.doubleValue(), got, Cases.tolerance(testCase, expected.doubleValue()), field);
        }
    }

    /** The chain against a dense nodal analysis by matrix, a second route to the same laws: 300 random trunks with one or two faults. */
    @Test
    void readings_agreeWithDenseNodalAnalysis() {
        SplittableRandom random = new SplittableRandom(20_261_125);
        for (int i = 0; i < 300; i++) {
            Circuit circuit = RandomTrunk.circuit(random);
            List<Fault> faults = RandomTrunk.faults(random, circuit);
            BusModel.Meter meter = new BusModel.Meter(true, 12.6, 0, Optional.empty());

            Predicted chain = BusModel.readings(circuit, faults, meter);
            Predicted dense = DenseNodes.readings(circuit, faults, 12.6);

            String what = "trunk " + i + " " + faults;
            assertSame(dense.highLowOhm(), chain.highLowOhm(), what);
            assertSame(dense.highGroundOhm(), chain.highGroundOhm(), what);
            assertSame(dense.lowGroundOhm(), chain.lowGroundOhm(), what);
            assertSame(dense.highSupplyOhm(), chain.highSupplyOhm(), what);
            // A line that nothing drives stands at 0 V in the matrix, because of its leak.
            assertEquals(dense.highVolt().orElse(0), chain.highVolt().orElse(0), 1e-3, what);
            assertEquals(dense.lowVolt().orElse(0), chain.lowVolt().orElse(0), 1e-3, what);
        }
    }

    /** A path beyond 1 Mohm is left out: the matrix needs a leak of 10 Gohm to be solved at all, and loses digits to it. */
    private static void assertSame(double dense, double chain, String what) {
        if (dense < 1e6 || chain < 1e6) {
            assertEquals(dense, chain, 1e-4 * dense + 1e-4, what);
        }
    }

    /** Of ideal wire, the second terminator inside the only module: by hand. */
    @ParameterizedTest
    @CsvSource(delimiter = '|', value = {
            "{'kind': 'module-stub', 'module': 'm'} | {'kind': 'terminator-drifted', 'terminator': 'terminator-b', 'ohm': 400} | 120",
            "{'kind': 'module-shunt', 'module': 'm', 'ohm': 100} | {'kind': 'terminator-missing', 'terminator': 'terminator-b'} | 54.5455",
            "{'kind': 'module-shunt', 'module': 'm', 'ohm': 100} | {'kind': 'terminator-drifted', 'terminator': 'terminator-b', 'ohm': 240} | 44.4444"}, quoteCharacter = '`')
    void readings_ofTwoFaultsInOneModule_showBoth(String one, String other, double highLowOhm) throws IOException {
        Circuit circuit = Cases.circuit(json("{'trunkMetres': 10, 'wireOhmPerMetre': 0, 'connector': {'atMetres': 5, 'stubMetres': 0}, "
                + "'terminators': [{'atMetres': 0, 'ohm': 120}, {'atMetres': 10, 'ohm': 120, 'inside': 'm'}], "
                + "'nodes': [{'module': 'm', 'atMetres': 10, 'stubMetres': 0, 'differentialOhm': 1e8}]}"));
        BusModel.Meter meter = new BusModel.Meter(false, 0, 0, Optional.empty());
        for (String faults : List.of("[" + one + "," + other + "]", "[" + other + "," + one + "]")) {
            assertEquals(highLowOhm, BusModel.readings(circuit, Cases.faults(json(faults)), meter).highLowOhm(), 0.001, faults);
        }
    }

    private static JsonNode json(String text) throws IOException {
        return new ObjectMapper().readTree(text.replace('\'', '"'));
    }

    /** Seen from its other end, a trunk is the same trunk. */
    @Test
    void readings_whenTrunkIsTurned_areTheSame() {
        SplittableRandom random = new SplittableRandom(7);
        for (int i = 0; i < 100; i++) {
            Circuit circuit = RandomTrunk.circuit(random);
            double shortAt = circuit.connector().orElseThrow().atMetres().getAsDouble() / 2 + 0.123;
            BusModel.Meter meter = new BusModel.Meter(false, 0, 0, Optional.empty());

            Predicted one = BusModel.readings(circuit, RandomTrunk.shortBetweenLines(shortAt, 33), meter);
            Predicted other = BusModel.readings(RandomTrunk.turned(circuit),
                    RandomTrunk.shortBetweenLines(circuit.trunkMetres().getAsDouble() - shortAt, 33), meter);

            assertEquals(one.highLowOhm(), other.highLowOhm(), 1e-9 * one.highLowOhm());
        }
    }

    /** Rayleigh's monotonicity law: one more conductance never raises a resistance. */
    @Test
    void readings_whenAShuntIsAdded_neverRise() {
        SplittableRandom random = new SplittableRandom(8);
        BusModel.Meter meter = new BusModel.Meter(false, 0, 0, Optional.empty());
        for (int i = 0; i < 100; i++) {
            Circuit circuit = RandomTrunk.circuit(random);
            double metres = random.nextDouble(circuit.trunkMetres().getAsDouble());

            Predicted with = BusModel.readings(circuit, RandomTrunk.shortBetweenLines(metres, Math.pow(10, random.nextDouble(0, 4))), meter);
            Predicted without = BusModel.readings(circuit, List.of(), meter);

            assertTrue(with.highLowOhm() <= without.highLowOhm());
            assertTrue(with.highGroundOhm() <= without.highGroundOhm());
            assertTrue(with.lowGroundOhm() <= without.lowGroundOhm());
        }
    }
}
