package comebackledger.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.measure.OverRange;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.measure.UnitOfMeasure;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Readings that fit nothing together still end in a next step: which to read again, and what that tells. */
class DoubtTest {
    private static final Circuit CIRCUIT = NetworkCases.nodes(3, 60_000);

    private static Optional<Reading> ohm(double value) {
        return Optional.of(Quantity.of(value, UnitOfMeasure.OHM));
    }

    private static BusVerdict judge(Optional<Reading> highLow, Optional<Reading> highGround, Optional<Reading> lowGround) {
        return BusCheck.judge(CIRCUIT, SimulatedTest.readings(highLow, highGround, lowGround, Optional.empty(), Optional.empty()), Evidence.NONE,
                CheckPolicy.DEFAULT);
    }

    private static BusVerdict.NextTest test(BusVerdict verdict, TestKind kind) {
        return verdict.nextTests().stream().filter(test -> test.test() == kind).findFirst()
                .orElseThrow(() -> new AssertionError(BusCheckTest.table(verdict)));
    }

    /**
     * 60 between the lines and 30 from one to ground leave 90 from the other, by Kirchhoff: 400 fits nothing. Without it, or without the 30, the other two
     * fit a short; without the 60 the two fit a broken trunk with a short.
     */
    @Test
    void nextTests_whenReadingsContradictEachOther_areToReadThemAgain() {
        BusVerdict verdict = judge(ohm(60.2), ohm(30), ohm(400));

        assertTrue(verdict.nextTests().getFirst().why().contains("read it again, leads zeroed"), () -> BusCheckTest.table(verdict));
        assertTrue(test(verdict, TestKind.HIGH_GROUND_AT_CONNECTOR).gainBits() > 0.1, () -> BusCheckTest.table(verdict));
        assertTrue(test(verdict, TestKind.LOW_GROUND_AT_CONNECTOR).gainBits() > 0.1, () -> BusCheckTest.table(verdict));
    }

    /** A sentence that names what the rest fits, so that the technician can see which reading stands alone. */
    @Test
    void why_namesWhatTheOtherReadingsFit() {
        BusVerdict verdict = judge(ohm(60.2), ohm(30), ohm(400));

        assertTrue(
                test(verdict, TestKind.LOW_GROUND_AT_CONNECTOR).why().startsWith("Without what it showed the other readings fit short-to-ground at "),
                () -> test(verdict, TestKind.LOW_GROUND_AT_CONNECTOR).why());
    }

    /** Leaving the reading to the cable out leaves the contradiction where it was: nobody doubts it, and to read it again would repeat it. */
    @Test
    void nextTests_whenAReadingIsNotPartOfTheContradiction_doNotReadItAgain() {
        BusReadings readings = SimulatedTest.readings(ohm(60.2), ohm(30), ohm(400), Optional.of(new OverRange(UnitOfMeasure.MEGOHM)),
                Optional.empty());

        BusVerdict verdict = BusCheck.judge(CIRCUIT, readings, Evidence.NONE, CheckPolicy.DEFAULT);

        assertEquals(FaultKind.OTHER, verdict.suspects().getFirst().fault(), () -> BusCheckTest.table(verdict));
        assertTrue(verdict.nextTests().stream().noneMatch(test -> test.test() == TestKind.HIGH_SUPPLY_AT_CONNECTOR),
                () -> BusCheckTest.table(verdict));
    }

    /** The control: readings that agree are doubted by nobody. */
    @Test
    void nextTests_whenReadingsAgree_readNothingAgain() {
        BusVerdict verdict = judge(ohm(60.2), ohm(30), ohm(90));

        assertTrue(verdict.suspects().getFirst().fault() == FaultKind.SHORT_TO_GROUND, () -> BusCheckTest.table(verdict));
        assertTrue(verdict.nextTests().stream().noneMatch(test -> test.test() == TestKind.HIGH_GROUND_AT_CONNECTOR),
                () -> BusCheckTest.table(verdict));
    }

    /** Three numbers of which no two agree: 25 ohm between the lines, and one line joined to ground and to the cable at once. Each is to be read again. */
    @Test
    void nextTests_whenNoTwoReadingsAgree_areNotEmpty() {
        BusReadings readings = SimulatedTest.readings(ohm(25), ohm(5), Optional.empty(), ohm(5), Optional.empty());

        BusVerdict verdict = BusCheck.judge(NetworkCases.nodes(3, 60_000).withSupplyToGroundOhm(40), readings, Evidence.NONE, CheckPolicy.DEFAULT);

        assertEquals(FaultKind.OTHER, verdict.suspects().getFirst().fault(), () -> BusCheckTest.table(verdict));
        assertTrue(verdict.nextTests().stream().anyMatch(test -> test.why().contains("read it again")), () -> BusCheckTest.table(verdict));
        verdict.nextTests().forEach(test -> assertTrue(test.gainBits() >= 0 && Double.isFinite(test.gainBits()), () -> BusCheckTest.table(verdict)));
    }

    /**
     * One reading alone stands against the rest, 3 ohm to ground against 250 between the lines and 90 kohm from the other: whether it repeats is worth the
     * bit between misread and unforeseen, and more than opening a terminator in four times the minutes.
     */
    @Test
    void gain_ofTheOneReadingAgainstTheRest_isTheBitOfWhetherItRepeats() {
        BusVerdict verdict = judge(ohm(250), ohm(3), ohm(90_000));

        assertEquals(1, test(verdict, TestKind.HIGH_GROUND_AT_CONNECTOR).gainBits(), 0.05, () -> BusCheckTest.table(verdict));
        assertEquals(TestKind.HIGH_GROUND_AT_CONNECTOR, verdict.nextTests().getFirst().test(), () -> BusCheckTest.table(verdict));
    }

    /** A broken branch: nothing leads from its own module to the trunk; read there, it is the first suspect and not an impossible reading. */
    @Test
    void judge_whenNothingLeadsFromASilentModuleToTheTrunk_suspectsItsBranch() {
        String module = CIRCUIT.nodes().orElseThrow().getLast().module();
        List<String> others = CIRCUIT.nodes().orElseThrow().stream().map(Circuit.Node::module).filter(name -> !name.equals(module)).toList();
        DoneTest done = new DoneTest(TestKind.HIGH_LOW_AT_MODULE, Optional.of(module),
                SimulatedTest.readings(Optional.of(new OverRange(UnitOfMeasure.MEGOHM)), Optional.empty(), Optional.empty(), Optional.empty(),
                        Optional.empty()),
                Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());

        BusVerdict verdict = BusCheck.judge(CIRCUIT, NetworkCases.highLow(60.2),
                new Evidence(Optional.of(new RollCall(others, List.of(module))), Optional.empty(), List.of(done), List.of()), CheckPolicy.DEFAULT);

        BusVerdict.Suspect first = verdict.suspects().getFirst();
        assertEquals(FaultKind.MODULE_STUB, first.fault(), () -> BusCheckTest.table(verdict));
        assertEquals(Optional.of(module), first.part());
        assertTrue(first.probability() > 0.9, () -> BusCheckTest.table(verdict));
        assertTrue(first.why().contains(module + " stayed silent when called."), first::why);
    }

    /** Two stretches, and two pairs, are not the same suspect: a sentence that names one twice tells nobody anything. */
    @Test
    void why_tellsRivalsApart() {
        BusVerdict verdict = judge(ohm(120.2), Optional.empty(), Optional.empty());

        for (BusVerdict.Suspect suspect : verdict.suspects()) {
            String rivals = suspect.why().replaceAll(".*Not told apart from (.*) so far;.*", "$1");
            List<String> names = List.of(rivals.split(", "));
            assertEquals(names.size(), names.stream().distinct().count(), suspect::why);
        }
    }
}
