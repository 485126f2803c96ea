package comebackledger.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.measure.OverRange;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.measure.UnitOfMeasure;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

class BusCheckTest {
    @TestFactory
    Stream<DynamicTest> judge_ranksAsArgued() {
        return Cases.of("network_reasoning").map(testCase -> DynamicTest.dynamicTest(Cases.name(testCase), () -> {
            JsonNode inputs = testCase.get("inputs");

            BusVerdict verdict = BusCheck.judge(NetworkCases.circuit(inputs), NetworkCases.readings(inputs), NetworkCases.evidence(inputs),
                    CheckPolicy.DEFAULT);

            assertRanking(testCase, verdict);
        }));
    }

    private static void assertRanking(JsonNode testCase, BusVerdict verdict) {
        JsonNode expected = testCase.get("expected");
        List<BusVerdict.Suspect> suspects = verdict.suspects();
        String table = table(verdict);
        int ranks = expected.get("first").size();
        for (int i = 0; i < ranks; i++) {
            BusVerdict.Suspect suspect = suspects.get(i);
            assertTrue(any(expected.get("first"), suspect), () -> "rank of " + suspect.fault().word() + "\n" + table);
        }
        for (JsonNode first : expected.get("first")) {
            assertTrue(suspects.subList(0, ranks).stream().anyMatch(suspect -> fits(first, suspect)), () -> first + " is not first\n" + table);
        }
        double least = suspects.get(ranks - 1).probability();
        for (JsonNode not : expected.get("notSuspected")) {
            for (BusVerdict.Suspect suspect : suspects) {
                assertTrue(!fits(not, suspect) || suspect.probability() < least, () -> not + " ranks too high\n" + table);
            }
        }
        if (expected.has("verdict")) {
            assertEquals(expected.get("verdict").textValue(), verdict.verdict().word());
        }
        assertEquals(1, suspects.stream().mapToDouble(BusVerdict.Suspect::probability).sum(), 1e-9);
        if (expected.hasNonNull("line")) {
            assertEquals(expected.get("line").textValue(), suspects.getFirst().line().orElseThrow().word());
        }
    }

    private static boolean any(JsonNode entries, BusVerdict.Suspect suspect) {
        for (JsonNode entry : entries) {
            if (fits(entry, suspect)) {
                return true;
            }
        }
        return false;
    }

    private static boolean fits(JsonNode entry, BusVerdict.Suspect suspect) {
        String part = entry.path("place").asText().replaceAll("^network\\.[^.]+\\.?", "");
        boolean kind = !entry.has("kind") || entry.get("kind").textValue().equals(suspect.fault().word());
        boolean place = !entry.has("place") || !part.isEmpty() && suspect.part().equals(Optional.of(part));
        List<String> between = new ArrayList<>();
        entry.path("between").forEach(name -> between.add(name.textValue()));
        return kind && place && (between.isEmpty() || between.equals(suspect.between()));
    }

    static String table(BusVerdict verdict) {
        StringBuilder table = new StringBuilder(verdict.verdict().word()).append(' ').append(verdict.expectedHighLowOhm()).append('\n');
        verdict.suspects()
                .forEach(suspect -> table.append(String.format("%6.4f %-26s %s %s %s %s %s %s%n", suspect.probability(), suspect.fault().word(),
                        suspect.part(), suspect.line(), suspect.between(), suspect.ohm(), suspect.atMetres(), suspect.also())));
        verdict.nextTests().forEach(test -> table.append(String.format("   %s %s %.3f bits%n", test.test().word(), test.at(), test.gainBits())));
        return table.toString();
    }

    /** An empty answer of the build: what explains a reading beside two healthy terminators, ideal wire. */
    @TestFactory
    Stream<DynamicTest> equivalents_areThoseOfTheClosedForm() {
        return Cases.of("can_inverse").map(testCase -> DynamicTest.dynamicTest(Cases.name(testCase), () -> {
            BusReadings readings = NetworkCases.highLow(testCase.at("/inputs/highLowOhm").doubleValue());

            BusVerdict verdict = BusCheck.judge(Circuit.unknown("j1939-1"), readings, Evidence.NONE, CheckPolicy.DEFAULT);

            testCase.get("expected").fields().forEachRemaining(entry -> {
                double got = switch (entry.getKey()) {
                    case "terminatorsSeen" -> verdict.terminatorsSeen().getAsInt();
                    case "shuntOhm" -> verdict.equivalents().orElseThrow().shuntOhm().getAsDouble();
                    case "seriesInTrunkOhm" -> verdict.equivalents().orElseThrow().seriesInTrunkOhm().getAsDouble();
                    case "seriesAtConnectorOhm" -> verdict.equivalents().orElseThrow().seriesAtConnectorOhm().getAsDouble();
                    default -> throw new IllegalStateException(entry.getKey());
                };
                double expected = entry.getValue().doubleValue();
                assertEquals(expected, got, Cases.tolerance(testCase, expected), entry.getKey());
            });
        }));
    }

    @TestFactory
    Stream<DynamicTest> verdict_followsTheWindowOfThePolicy() {
        return Cases.of("can_windows").filter(testCase -> testCase.get("inputs").has("windowsOhm")).flatMap(testCase -> {
            List<DynamicTest> tests = new ArrayList<>();
            testCase.at("/inputs/windowsOhm").fields()
                    .forEachRemaining(window -> tests.add(DynamicTest.dynamicTest(Cases.name(testCase) + window, () -> {
                        CheckPolicy base = CheckPolicy.DEFAULT;
                        CheckPolicy policy = new CheckPolicy(base.terminatorTolerance(), base.terminatorSpread(), base.meter(), base.leadOhm(),
                                base.lowSupplyVoltsPer12(), base.odds(),
                                Optional.of(new CheckPolicy.Range(window.getValue().get(0).doubleValue(), window.getValue().get(1).doubleValue())),
                                base.testMinutes(), base.provenRepair());

                        BusVerdict verdict = BusCheck.judge(Circuit.unknown("j1939-1"),
                                NetworkCases.highLow(testCase.at("/inputs/highLowOhm").doubleValue()),
                                Evidence.NONE, policy);

                        boolean passes = testCase.get("expected").get(window.getKey()).booleanValue();
                        assertEquals(passes ? BusVerdict.Verdict.WITHIN : BusVerdict.Verdict.OUTSIDE, verdict.verdict());
                    })));
            return tests.stream();
        });
    }

    /** CAN-W20 and the rest: terminators at both ends, nodes at both ends, ideal wire. */
    @TestFactory
    Stream<DynamicTest> expectedRange_isWhatHealthyPartsCanGive() {
        return Cases.of("can_windows").filter(testCase -> testCase.get("inputs").has("terminatorOhm"))
                .map(testCase -> DynamicTest.dynamicTest(Cases.name(testCase), () -> {
                    JsonNode inputs = testCase.get("inputs");
                    assertEquals(testCase.at("/expected/lowOhm").doubleValue(), end(inputs, 0),
                            Cases.tolerance(testCase, testCase.at("/expected/lowOhm").doubleValue()));
                    assertEquals(testCase.at("/expected/highOhm").doubleValue(), end(inputs, 1),
                            Cases.tolerance(testCase, testCase.at("/expected/highOhm").doubleValue()));
                }));
    }

    private static double end(JsonNode inputs, int which) {
        double terminator = inputs.get("terminatorOhm").get(which).doubleValue();
        List<Circuit.Node> nodes = new ArrayList<>();
        for (int i = 0; i < inputs.get("nodes").intValue(); i++) {
            OptionalDouble none = OptionalDouble.empty();
            nodes.add(new Circuit.Node("node-" + i, none, none, OptionalDouble.of(inputs.get("differentialOhm").get(which).doubleValue()), none, none,
                    none));
        }
        Circuit circuit = new Circuit("j1939-1", OptionalDouble.of(40), OptionalDouble.of(0),
                Optional.of(List.of(new Circuit.Terminator("terminator-a", OptionalDouble.of(0), terminator, Optional.empty(), false),
                        new Circuit.Terminator("terminator-b", OptionalDouble.of(40), terminator, Optional.empty(), false))),
                Optional.of(nodes), Optional.empty(), OptionalDouble.empty(), OptionalDouble.empty());
        return BusModel.readings(circuit, List.of(), new BusModel.Meter(false, 0, 0, Optional.empty())).highLowOhm();
    }

    @TestFactory
    Stream<DynamicTest> ambiguity_isTheSetOfCandidatesWithinTheTolerance() {
        return Cases.of("ambiguity").map(testCase -> DynamicTest.dynamicTest(Cases.name(testCase), () -> {
            JsonNode inputs = testCase.get("inputs");
            List<String> tie = new ArrayList<>();
            for (JsonNode candidate : inputs.get("candidates")) {
                Predicted predicted = BusModel.readings(Cases.circuit(inputs.get("network")), Cases.faults(candidate.get("faults")),
                        new BusModel.Meter(false, 0, 0, Optional.empty()));
                boolean fits = true;
                for (String field : List.of("highLowOhm", "highGroundOhm", "lowGroundOhm")) {
                    double got = field.equals("highLowOhm")
                            ? predicted.highLowOhm()
                            : field.equals("highGroundOhm") ? predicted.highGroundOhm() : predicted.lowGroundOhm();
                    JsonNode read = inputs.get("readings").path(field);
                    double allowed = inputs.at("/readingTolerance/absolute").doubleValue()
                            + inputs.at("/readingTolerance/relative").doubleValue() * read.asDouble();
                    fits &= read.isMissingNode() || (read.isTextual() ? Predicted.isOpen(got) : Math.abs(got - read.doubleValue()) <= allowed);
                }
                if (fits) {
                    tie.add(candidate.get("name").textValue());
                }
            }
            List<String> expected = new ArrayList<>();
            testCase.at("/expected/tie").forEach(name -> expected.add(name.textValue()));
            assertEquals(expected, tie);
        }));
    }

    /** The same ohms on another build move the odds: a terminator inside a silent module cannot be missed and seen at once. */
    @Test
    void judge_whenTheBuildDiffers_givesOtherOdds() {
        Reading read = Quantity.of(51.7, UnitOfMeasure.OHM);
        BusReadings readings = NetworkCases.highLow(((Quantity) read).value());
        Circuit few = NetworkCases.nodes(3, 60_000);
        Circuit many = NetworkCases.nodes(30, 12_000);

        assertEquals(BusVerdict.Verdict.OUTSIDE, BusCheck.judge(few, readings, Evidence.NONE, CheckPolicy.DEFAULT).verdict());
        assertEquals(BusVerdict.Verdict.WITHIN, BusCheck.judge(many, readings, Evidence.NONE, CheckPolicy.DEFAULT).verdict());
        assertEquals(FaultKind.NONE_FOUND, BusCheck.judge(many, readings, Evidence.NONE, CheckPolicy.DEFAULT).suspects().getFirst().fault());
    }

    private static BusVerdict judge(Circuit circuit, Optional<Reading> highLow, Optional<Reading> toGround, Optional<Reading> highSupply) {
        BusReadings readings = SimulatedTest.readings(highLow, toGround, toGround, highSupply, Optional.empty());
        return BusCheck.judge(circuit, readings, Evidence.NONE, CheckPolicy.DEFAULT);
    }

    private static Optional<Reading> ohm(double value) {
        return Optional.of(Quantity.of(value, UnitOfMeasure.OHM));
    }

    /** Leads that were zeroed and not told: the display says 0, and the lines are joined all the same. */
    @Test
    void judge_whenNothingIsReadBetweenTheLines_suspectsADeadShort() {
        BusVerdict verdict = judge(Circuit.unknown("j1939-1"), ohm(0), Optional.empty(), Optional.empty());

        assertEquals(FaultKind.TRUNK_SHORT_HIGH_LOW, verdict.suspects().getFirst().fault());
        assertTrue(verdict.suspects().getFirst().probability() > 0.9, table(verdict));
    }

    /** 5 ohm to ground, and 25 to the positive cable through 20 ohm of loads that the build does not tell. */
    @Test
    void judge_whenUntoldLoadsLeadToGround_suspectsTheShortToGround() {
        Circuit truth = NetworkCases.nodes(3, 60_000).withSupplyToGroundOhm(20);
        Fault fault = new Fault(FaultKind.SHORT_TO_GROUND, Optional.empty(), Optional.of(Line.HIGH), OptionalDouble.of(5), OptionalDouble.of(12),
                List.of());
        Predicted read = BusModel.readings(truth, List.of(fault), new BusModel.Meter(false, 0, 0.2, Optional.empty()));
        BusReadings readings = SimulatedTest.readings(ohm(read.highLowOhm()), ohm(read.highGroundOhm()), ohm(read.lowGroundOhm()),
                ohm(read.highSupplyOhm()), ohm(read.lowSupplyOhm()));

        BusVerdict verdict = BusCheck.judge(NetworkCases.nodes(3, 60_000), readings, Evidence.NONE, CheckPolicy.DEFAULT);

        assertEquals(FaultKind.SHORT_TO_GROUND, verdict.suspects().getFirst().fault(), () -> table(verdict));
        assertTrue(verdict.suspects().getFirst().probability() > 0.8, () -> table(verdict));
    }

    /** Inputs that nobody told of pull to ground strongly, weakly or not at all: a sound trunk is not called broken for it. */
    @Test
    void judge_whenUntoldInputsLeadToGround_doesNotCallThemAFault() {
        List<Circuit.Node> nodes = List.of(Circuit.Node.named("engine"), Circuit.Node.named("dash"), Circuit.Node.named("brakes"));
        Circuit circuit = Circuit.unknown("j1939-1").withNodes(nodes);
        for (double lineToGroundOhm : new double[]{6_000, 20_000, 60_000, 200_000}) {
            BusVerdict verdict = judge(circuit, ohm(60.1), ohm(lineToGroundOhm / 6), Optional.empty());

            double sound = verdict.suspects().stream().filter(suspect -> suspect.fault() == FaultKind.NONE_FOUND)
                    .mapToDouble(BusVerdict.Suspect::probability).sum();
            assertTrue(sound > 0.25, () -> lineToGroundOhm + "\n" + table(verdict));
            assertTrue(verdict.suspects().getFirst().fault() != FaultKind.SHORT_TO_GROUND, () -> lineToGroundOhm + "\n" + table(verdict));
            assertTrue(verdict.suspects().getLast().probability() < 0.1, () -> lineToGroundOhm + "\n" + table(verdict));
        }
    }

    /** Three inputs of 200 kohm show 33 kohm to ground; a meter left on a lower range says "beyond it", and refutes nothing by that. */
    @Test
    void judge_whenAHighNumberIsWrittenAsBeyondTheRange_doesNotCallItAFault() {
        OptionalDouble untold = OptionalDouble.empty();
        List<Circuit.Node> nodes = List.of("engine", "dash", "brakes").stream()
                .map(name -> new Circuit.Node(name, untold, untold, OptionalDouble.of(60_000), OptionalDouble.of(200_000), untold, untold)).toList();
        Optional<Reading> beyond = Optional.of(new OverRange(UnitOfMeasure.MEGOHM));

        BusVerdict verdict = judge(Circuit.unknown("j1939-1").withNodes(nodes), ohm(60.1), beyond, Optional.empty());

        assertEquals(FaultKind.NONE_FOUND, verdict.suspects().getFirst().fault(), () -> table(verdict));
        assertTrue(verdict.suspects().getLast().probability() < 0.1, () -> table(verdict));
    }

    /** 30 ohm to ground on one line and 60 between them leave at most 90 on the other: 400 is a wrong reading, and the caution says so first. */
    @Test
    void judge_whenReadingsContradictEachOther_saysToReadAgain() {
        BusReadings readings = SimulatedTest.readings(ohm(60.2), ohm(30), ohm(400), Optional.empty(), Optional.empty());

        BusVerdict verdict = BusCheck.judge(NetworkCases.nodes(3, 60_000), readings, Evidence.NONE, CheckPolicy.DEFAULT);

        assertEquals(FaultKind.OTHER, verdict.suspects().getFirst().fault(), () -> table(verdict));
        assertTrue(verdict.cautions().getFirst().contains("read each of them again"), () -> verdict.cautions().toString());
    }

    static Optional<Reading> reading(JsonNode readings, String field) {
        JsonNode value = readings.path(field);
        return value.isMissingNode()
                ? Optional.empty()
                : Optional.of(value.isTextual() ? new OverRange(UnitOfMeasure.MEGOHM) : Quantity.of(value.doubleValue(), UnitOfMeasure.OHM));
    }
}
