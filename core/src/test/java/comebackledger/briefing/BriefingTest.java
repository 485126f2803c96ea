package comebackledger.briefing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.visit.Stage;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Invented trucks; what must come first follows from RULES 4 to 6 and the bus room's own answers. */
class BriefingTest {
    private static final String TERMINATOR_A = Truck.J1939 + ".terminator-a";
    private static final String TERMINATOR_B = Truck.J1939 + ".terminator-b";

    private static List<String> places(Briefing briefing) {
        return briefing.openTrails().stream().map(trail -> trail.place().toString()).toList();
    }

    private static double odds(Briefing briefing, String place) {
        return briefing.suspects().stream().filter(suspect -> suspect.place().equals(Optional.of(place))).mapToDouble(Briefing.Suspect::probability)
                .sum();
    }

    private static void assertOddsAddUp(Briefing briefing) {
        briefing.suspects().stream().map(Briefing.Suspect::system).distinct()
                .forEach(system -> assertEquals(1, briefing.suspects().stream().filter(suspect -> suspect.system().equals(system))
                        .mapToDouble(Briefing.Suspect::probability).sum(), 1e-6, system));
    }

    private static void assertTestsInOrder(Briefing briefing) {
        List<Double> rates = briefing.nextTests().stream().map(Briefing.NextTest::bitsPerMinute).toList();
        assertEquals(rates.stream().sorted(java.util.Comparator.reverseOrder()).toList(), rates);
        briefing.nextTests().forEach(test -> assertFalse(test.cautions().isEmpty(), test.test()));
    }

    /** Nobody doubts its network: the reading that tells most for its minutes, and the roll call. */
    @Test
    void truckWithoutAFault_isToldSoAndGetsTheRoutineFirstTests() {
        Briefing briefing = new Truck().arrives("WO-1", "2026-01-05", 400_000).leaves().briefing("2026-01-06");

        assertEquals("No fault is open in this ledger. The routine first tests are named below.", briefing.summary());
        assertEquals(List.of(), briefing.suspects());
        assertEquals(List.of("high-low-at-connector", "high-low-at-connector", "roll-call", "roll-call"),
                briefing.nextTests().stream().map(Briefing.NextTest::test).sorted().toList());
        assertEquals(Optional.of("network.body.connector"), briefing.nextTests().getFirst().place());
        assertTrue(briefing.nextTests().stream().allMatch(test -> test.gainBits() > 0.1), briefing.nextTests().toString());
        assertTestsInOrder(briefing);
    }

    @Test
    void truckNeverSeenAndOfUnknownBuild_isToldSo() {
        Briefing briefing = new Truck().ofUnknownBuild().briefing("2026-01-06");

        assertTrue(briefing.summary().startsWith("No visit is recorded"), briefing.summary());
        assertEquals("high-low-at-connector", briefing.nextTests().getFirst().test());
        assertTrue(briefing.notKnown().getFirst().startsWith("The networks of this build"), briefing.notKnown().toString());
    }

    /** One of two terminators: 120 ohm. Either end explains it alike, so the terminator itself is measured first. */
    @Test
    void oneTerminatorMissing_suspectsBothEndsAlike() {
        Briefing briefing = new Truck().arrives("WO-1", "2026-01-05", 400_000).check("j1939-1", Stage.AS_FOUND, 120.2).leaves()
                .briefing("2026-01-06");

        assertEquals(List.of(Truck.J1939 + ".trunk"), places(briefing));
        assertEquals(odds(briefing, TERMINATOR_A), odds(briefing, TERMINATOR_B), 0.05);
        assertTrue(odds(briefing, TERMINATOR_A) > 0.2, briefing.suspects().toString());
        assertEquals("terminator-out", briefing.nextTests().getFirst().test());
        assertEquals("WO-1", briefing.suspects().getFirst().visit());
        assertOddsAddUp(briefing);
        assertTestsInOrder(briefing);
    }

    /** The same reading again after terminator b was replaced and a test proved it: half the odds for b. */
    @Test
    void provenRepair_makesThatPartLessLikelyTheNextTime() {
        Briefing briefing = new Truck()
                .arrives("WO-1", "2026-01-05", 400_000).check("j1939-1", Stage.AS_FOUND, 120.2).replaced(TERMINATOR_B)
                .check("j1939-1", Stage.AS_LEFT, 60.3).leaves()
                .arrives("WO-2", "2026-02-20", 409_000).check("j1939-1", Stage.AS_FOUND, 120.1).leaves()
                .briefing("2026-02-21");

        assertEquals(0.5, odds(briefing, TERMINATOR_B) / odds(briefing, TERMINATOR_A), 0.05);
        Briefing.Suspect b = briefing.suspects().stream().filter(one -> one.place().equals(Optional.of(TERMINATOR_B))).findFirst().orElseThrow();
        assertTrue(b.why().contains("Replaced in WO-1 on 2026-01-05") && b.why().contains("proved"), b.why());
        Briefing.RepairTried tried = briefing.repairsTried().getFirst();
        assertTrue(tried.proven());
        assertEquals(Optional.of("part 7"), tried.part());
        assertEquals("WO-2", briefing.recentVisits().getFirst().visit());
        assertOddsAddUp(briefing);
    }

    /** The repair's own place failing again: how long it held, by every measure that is known. */
    @Test
    void repairThatDidNotHold_tellsHowLongItHeld() {
        Briefing briefing = new Truck()
                .arrives("WO-1", "2026-01-05", 400_000).check("j1939-1", Stage.AS_FOUND, 120.2).replaced(TERMINATOR_B).leaves()
                .arrives("WO-2", "2026-02-20", 409_000).check("j1939-1", Stage.AS_FOUND, 120.1).replaced(TERMINATOR_B).leaves()
                .briefing("2026-02-21");

        Briefing.RepairTried first = briefing.repairsTried().getLast();
        assertEquals(Optional.of("WO-2"), first.returnedBy());
        assertEquals(9_000, first.held().orElseThrow().km().orElseThrow(), 1e-6);
        assertEquals(45.67, first.held().orElseThrow().days(), 0.01);
        assertFalse(first.proven());
        assertEquals(List.of(), briefing.openTrails());
        assertTrue(briefing.notKnown().stream().anyMatch(text -> text.contains(TERMINATOR_B)), briefing.notKnown().toString());
    }

    /** A network that holds the unit before one that does not, whatever opened later. */
    @Test
    void heaviestFault_comesFirst() {
        Briefing briefing = new Truck()
                .arrives("WO-1", "2026-01-05", 400_000).check("j1939-1", Stage.AS_FOUND, Optional.of(60.2), List.of("engine", "transmission"),
                        List.of("brakes"))
                .leaves()
                .arrives("WO-2", "2026-01-09", 401_000).check("body", Stage.AS_FOUND, 120.1).heldFlow(Stage.AS_FOUND, 22, "cooler-outlet-boot")
                .leaves()
                .briefing("2026-01-10");

        assertEquals(List.of(Truck.J1939 + ".brakes", "charge-air.cooler-outlet-boot", "network.body.trunk"), places(briefing));
        assertEquals(List.of(Truck.J1939, "charge-air", "network.body"),
                briefing.suspects().stream().map(Briefing.Suspect::system).distinct().toList());
        assertTrue(briefing.summary().contains(Truck.J1939 + ".brakes") && briefing.summary().contains("2 more faults are open"), briefing.summary());
        assertOddsAddUp(briefing);
        assertTestsInOrder(briefing);
    }

    /** One module accused and nobody called: the quickest to know is whether it still answers; the network's first reading is asked for too. */
    @Test
    void codesAlone_askForTheRollCallAndTheFirstReading() {
        Briefing briefing = new Truck().arrives("WO-1", "2026-01-05", 400_000).code("U0121").leaves().briefing("2026-01-06");

        assertEquals(1, briefing.openTrails().size());
        assertEquals("roll-call", briefing.nextTests().getFirst().test());
        assertTrue(briefing.nextTests().stream().anyMatch(next -> next.test().equals("high-low-at-connector")), briefing.nextTests()::toString);
        assertFalse(briefing.suspects().isEmpty());
        assertTrue(briefing.notKnown().stream().anyMatch(text -> text.contains("no roll call")), briefing.notKnown().toString());
        assertOddsAddUp(briefing);
    }

    /** A leak measured and not found: the spots that leaked before come first; smoke tells where. */
    @Test
    void leakNotLocated_isLookedForWhereItLeakedBefore() {
        Briefing briefing = new Truck()
                .arrives("WO-1", "2026-01-05", 400_000).heldFlow(Stage.AS_FOUND, 60, "intake-elbow").replaced("charge-air.intake-elbow").leaves()
                .arrives("WO-2", "2026-04-20", 430_000).heldFlow(Stage.AS_FOUND, 900).leaves()
                .briefing("2026-04-21");

        assertEquals(List.of("charge-air.unlocated"), places(briefing));
        assertEquals(Optional.of("charge-air.intake-elbow"), briefing.suspects().getFirst().place());
        assertEquals(Briefing.LEAK, briefing.suspects().getFirst().fault());
        assertEquals("smoke", briefing.nextTests().getFirst().test());
        assertEquals(Optional.of("charge-air.intake-elbow"), briefing.nextTests().getFirst().place());
        assertTrue(briefing.nextTests().getFirst().cautions().getFirst().contains("207 kPa"), briefing.nextTests().toString());
        assertEquals(List.of("charge-air.orificeMm"), briefing.pastReadings().stream().map(ReadingSeries::series).toList());
        assertOddsAddUp(briefing);
        assertTestsInOrder(briefing);
    }

    /** 0.4 ohm more each 10 000 km, the leads' 0.2 ohm taken off; a repair starts the trend anew. */
    @Test
    void readings_drift_untilARepair() {
        Truck truck = new Truck();
        for (int i = 0; i < 6; i++) {
            truck.arrives("WO-" + i, "2026-0" + (i + 1) + "-05", 400_000 + 10_000 * i).check("j1939-1", Stage.AS_FOUND, 58.6 + 0.4 * i).leaves();
        }
        ReadingSeries drifting = series(truck, "2026-07-01");
        truck.arrives("WO-9", "2026-07-05", 460_000).replaced(TERMINATOR_A).check("j1939-1", Stage.AS_LEFT, 60.1).leaves();
        ReadingSeries repaired = series(truck, "2026-08-01");

        assertEquals(ReadingSeries.Axis.KM, drifting.axis());
        assertEquals(0.4 / 10_000, drifting.trend().slope(), 1e-9);
        double high = drifting.high().orElseThrow();
        assertEquals(400_000 + (high - 58.4) / 0.4 * 10_000, drifting.crossing().orElseThrow().at(), 1);
        assertTrue(repaired.trend().undefined().isPresent());
        assertEquals(7, repaired.points().size());
        assertEquals(List.of("WO-9"), repaired.repairs().stream().map(ReadingSeries.Mark::visit).toList());
    }

    private static ReadingSeries series(Truck truck, String at) {
        return ReadingSeries.all(truck.view(at)).stream().filter(one -> one.series().equals(Truck.J1939 + ".highLowOhm")).findFirst().orElseThrow();
    }

    /** Read on one day, called on another: together a break before the brakes, which neither says by itself. */
    @Test
    void severalVisitsOnOneFault_areOneBodyOfEvidence() {
        Briefing briefing = twoVisits(false);

        assertTrue(broken(briefing) > 0.8, briefing.suspects().toString());
        assertEquals("WO-2", briefing.suspects().getFirst().visit());
        assertOddsAddUp(briefing);
    }

    /** What was read before something was done to the network says nothing of it now. */
    @Test
    void evidenceOfBeforeARepair_isNotJoined() {
        assertTrue(broken(twoVisits(true)) < 0.6, twoVisits(true).suspects().toString());
    }

    private static Briefing twoVisits(boolean repairedBetween) {
        Truck.Stay first = new Truck().arrives("WO-1", "2026-01-05", 400_000).check("j1939-1", Stage.AS_FOUND, Optional.of(120.2), List.of(),
                List.of());
        return (repairedBetween ? first.replaced(Truck.J1939 + ".connector") : first).leaves()
                .arrives("WO-2", "2026-01-09", 400_900).check("j1939-1", Stage.AS_FOUND, Optional.empty(), List.of("engine", "transmission"),
                        List.of("brakes"))
                .leaves().briefing("2026-01-10");
    }

    private static double broken(Briefing briefing) {
        return briefing.suspects().stream().filter(suspect -> suspect.fault().equals("trunk-open")).mapToDouble(Briefing.Suspect::probability).sum();
    }

    /** No visit read a meter since: the days are known, the distance is not. */
    @Test
    void repairWithoutALaterVisit_tellsDaysAndNoDistance() {
        Briefing.RepairTried tried = new Truck().arrives("WO-1", "2026-01-05", 400_000).check("j1939-1", Stage.AS_FOUND, 120.2).replaced(TERMINATOR_B)
                .leaves().briefing("2026-01-15").repairsTried().getFirst();

        assertEquals(9.33, tried.held().orElseThrow().days(), 0.01);
        assertTrue(tried.held().orElseThrow().km().isEmpty());
    }

    /** A part may have been repaired a hundred times: the sheet tells how often, and of the newest two how. */
    @Test
    void partRepairedManyTimes_isToldInTwoSentences() {
        Truck truck = new Truck();
        for (int i = 0; i < 20; i++) {
            truck = truck.arrives("WO-" + i, LocalDate.parse("2025-01-06").plusDays(10L * i).toString(), 400_000 + 1_000 * i)
                    .check("j1939-1", Stage.AS_FOUND, 120.2).replaced(TERMINATOR_B).leaves();
        }
        Briefing briefing = truck.arrives("LAST", "2025-08-01", 425_000).check("j1939-1", Stage.AS_FOUND, 120.2).leaves().briefing("2025-08-02");

        assertEquals(12, briefing.repairsTried().size());
        assertEquals("WO-19", briefing.repairsTried().getFirst().visit());
        Briefing.Suspect b = briefing.suspects().stream().filter(one -> one.place().equals(Optional.of(TERMINATOR_B))).findFirst().orElseThrow();
        assertTrue(b.why().contains("Worked on 18 times before.") && b.why().contains("WO-19") && !b.why().contains("WO-17"), b.why());
    }
}
