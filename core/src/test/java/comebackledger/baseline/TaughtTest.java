package comebackledger.baseline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.judge.BusFact;
import comebackledger.judge.LampFact;
import comebackledger.judge.RepairFact;
import comebackledger.judge.SuspectFact;
import comebackledger.judge.Verdict;
import comebackledger.judge.VisitFacts;
import comebackledger.measure.MeterLine;
import comebackledger.measure.MeterReading;
import comebackledger.policy.Policy;
import comebackledger.trail.Clock;
import comebackledger.trail.Flag;
import comebackledger.trail.Fold;
import comebackledger.trail.Trail;
import comebackledger.trail.UnitState;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import comebackledger.visit.Place;
import comebackledger.visit.RepairAction;
import comebackledger.visit.Stage;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

/** The flags on whole systems; expectations are the project's own rules, the dates of tests worked from the cited formulas. */
class TaughtTest {
    private static final Instant START = Instant.parse("2025-01-01T00:00:00Z");
    private static final String NETWORK = "network.j1939-1";
    private static final double KM_PER_DAY = 400;
    private static final Outlook.Trip STANDARD = new Outlook.Trip(OptionalDouble.of(800), OptionalDouble.empty());

    private final List<VisitFacts> visits = new ArrayList<>();

    private static Instant day(double day) {
        return START.plusSeconds(Math.round(day * 86_400));
    }

    private static Unit unit() {
        return new Unit("T-1", Optional.of("linehaul"), Optional.of(START), Optional.empty(), new TreeMap<>(), Unit.of("T-1").build());
    }

    private void visit(double day, Optional<BusFact> check, boolean repaired) {
        String id = "WO-" + visits.size();
        MeterReading km = new MeterReading(id, day(day), OptionalDouble.of(day * KM_PER_DAY), false, OptionalDouble.empty());
        MeterReading none = new MeterReading(id, day(day), OptionalDouble.empty(), false, OptionalDouble.empty());
        List<RepairFact> repairs = repaired
                ? List.of(new RepairFact(Place.parse(NETWORK + ".terminator-b").orElseThrow(), RepairAction.REPLACED, Optional.empty(), true))
                : List.of();
        visits.add(
                new VisitFacts(id, day(day), Optional.of(day(day).plusSeconds(3600)), km, none, List.of(), false, check.stream().toList(), List.of(),
                        List.of(), repairs, LampFact.UNKNOWN, Optional.empty(), Optional.empty(), false));
    }

    private void reads(double day, double ohm) {
        visit(day, Optional.of(fact(ohm, Verdict.WITHIN, new SuspectFact("none-found", Optional.empty(), List.of(), 0.9))), false);
    }

    private void failsAndIsRepaired(double day) {
        visit(day, Optional.of(fact(119.5, Verdict.OUTSIDE, new SuspectFact("terminator-missing", Optional.of("terminator-b"), List.of(), 0.9))),
                true);
    }

    private static BusFact fact(double ohm, Verdict verdict, SuspectFact suspect) {
        return new BusFact("j1939-1", Stage.AS_FOUND, List.of("/busChecks/0"), verdict, Set.of("highLow"), List.of(), List.of(), List.of(suspect),
                OptionalDouble.of(ohm), OptionalDouble.of(57), OptionalDouble.of(63));
    }

    private Taught taught(double day, Optional<Baseline> baseline) {
        UnitState state = Fold.of(visits.stream().filter(visit -> !visit.arrivedAt().isAfter(day(day))).toList(), Policy.DEFAULT);
        return Taught.of(unit(), UnitView.of(state, Policy.DEFAULT, day(day)), baseline);
    }

    private static Optional<Flag> flag(Taught taught, Flag.Kind kind) {
        return taught.view().flags().stream().filter(flag -> flag.kind() == kind).findFirst();
    }

    // Drifting: 60 ohm rising 0.5 ohm in 20 days of 400 km meets 63 ohm at day 220, read at days 100, 120, 140, 160.

    private void drifts() {
        for (int i = 0; i < 4; i++) {
            reads(100 + 20 * i, 60 + 0.5 * i);
        }
    }

    @Test
    void drifting_whenFourReadingsRunToTheLimit_holdsOnTheSystem() {
        drifts();

        Flag flag = flag(taught(161, Optional.empty()), Flag.Kind.DRIFTING).orElseThrow();

        assertEquals(NETWORK, flag.place());
        assertEquals(List.of("WO-0", "WO-1", "WO-2", "WO-3"), flag.grounds());
        // Day 220 is 20 000 km ahead at day 170 and 60 days ahead at day 160: the newest reading.
        assertEquals(day(160), flag.since());
        assertEquals(Optional.empty(), flag.expiresAt());
    }

    @Test
    void drifting_withThreeReadings_isNotTold() {
        drifts();

        assertEquals(Optional.empty(), flag(taught(159, Optional.empty()), Flag.Kind.DRIFTING));
    }

    @Test
    void drifting_awayFromTheLimitOrLevel_isNotTold() {
        reads(100, 60);
        reads(120, 60.4);
        reads(140, 60.1);
        reads(160, 60.3);

        assertEquals(Optional.empty(), flag(taught(161, Optional.empty()), Flag.Kind.DRIFTING));
    }

    @Test
    void drifting_readingsBeforeARepair_doNotCount() {
        drifts();
        failsAndIsRepaired(170);
        reads(175, 60);

        assertEquals(Optional.empty(), flag(taught(176, Optional.empty()), Flag.Kind.DRIFTING));
    }

    @Test
    void drifting_farAhead_startsByItself() {
        for (int i = 0; i < 4; i++) {
            reads(100 + 20 * i, 60 + 0.2 * i);
        }
        // 63 ohm at day 400: 60 days ahead from day 340.
        Taught early = taught(200, Optional.empty());
        assertEquals(Optional.empty(), flag(early, Flag.Kind.DRIFTING));
        Instant starts = early.view().changes().stream().filter(day(300)::isBefore).findFirst().orElseThrow();
        assertEquals(340, MeterLine.daysBetween(START, starts), 1e-3);

        assertTrue(flag(taught(340.1, Optional.empty()), Flag.Kind.DRIFTING).isPresent());
    }

    @Test
    void drifting_weighsOnATrip_onceTheCrossingFallsInsideIt() {
        drifts();

        Taught early = taught(200, Optional.empty());
        assertEquals(List.of(), early.outlook().driftingOn(STANDARD));
        assertEquals(1, early.outlook().driftingOn(new Outlook.Trip(OptionalDouble.of(20 * KM_PER_DAY + 1), OptionalDouble.empty())).size());
        // 800 km are two days.
        assertEquals(218, MeterLine.daysBetween(START, early.outlook().changes(STANDARD).getFirst()), 1e-3);
        assertEquals(1, taught(218.1, Optional.empty()).outlook().driftingOn(STANDARD).size());
    }

    // Accelerating.

    @Test
    void accelerating_whenEpisodesComeFaster_holdsUntilTheTestsSayNoMore() {
        for (double day : new double[]{200, 300, 350, 370, 380, 385}) {
            failsAndIsRepaired(day);
        }
        // At day 390: Laplace mean 330.8/390, U = 2.9; MIL-HDBK-189 2 sum ln(T/t) = 2.6 with 12 degrees of freedom.
        Flag flag = flag(taught(390, Optional.empty()), Flag.Kind.ACCELERATING).orElseThrow();

        assertEquals(NETWORK, flag.place());
        Instant last = flag.expiresAt().orElseThrow();
        double days = MeterLine.daysBetween(START, last);
        assertTrue(flag(taught(days, Optional.empty()), Flag.Kind.ACCELERATING).isPresent());
        assertFalse(flag(taught(days + 0.01, Optional.empty()), Flag.Kind.ACCELERATING).isPresent());
        assertTrue(Clock.passedFrom(last).isAfter(day(390)));
    }

    @Test
    void accelerating_withThreeEpisodesOrEvenOnes_isNotTold() {
        for (double day : new double[]{370, 380, 385}) {
            failsAndIsRepaired(day);
        }
        assertEquals(Optional.empty(), flag(taught(390, Optional.empty()), Flag.Kind.ACCELERATING));

        visits.clear();
        for (double day : new double[]{60, 120, 180, 240, 300, 360}) {
            failsAndIsRepaired(day);
        }
        assertEquals(Optional.empty(), flag(taught(390, Optional.empty()), Flag.Kind.ACCELERATING));
    }

    // Frequent.

    /** Thirty even peers with one or two episodes in 400 days, beside the unit under test. */
    private Baseline peers(UnitSummary self) {
        List<UnitSummary> fleet = new ArrayList<>();
        for (int i = 0; i < 30; i++) {
            List<UnitSummary.Opened> episodes = new ArrayList<>();
            for (int k = 0; k <= i % 2; k++) {
                episodes.add(
                        new UnitSummary.Opened(NETWORK, NETWORK + ".trunk", "P-" + i + "-" + k, day(100 + 100 * k + i), Optional.of(day(150)), true,
                                false, false, false, OptionalDouble.empty(), OptionalDouble.empty()));
            }
            fleet.add(new UnitSummary("P-" + i, Optional.of("linehaul"), new TreeMap<>(), Optional.of(START), Optional.empty(), Optional.of(START),
                    Optional.of(day(400)), List.of(metered(0), metered(400)), episodes, List.of()));
        }
        fleet.add(self);
        return Baseline.learn(row -> fleet.forEach(row::accept), day(400)).kept(1, day(400));
    }

    private static UnitSummary.Metered metered(double day) {
        return new UnitSummary.Metered(day(day), OptionalDouble.of(day * KM_PER_DAY), 0, OptionalDouble.empty(), -1);
    }

    private UnitSummary self() {
        return UnitSummary.of(unit(), Fold.of(visits, Policy.DEFAULT), Policy.DEFAULT);
    }

    @Test
    void frequent_besidePeers_holdsUntilExposureThinsIt() {
        visit(0, Optional.empty(), false);
        for (int i = 1; i <= 18; i++) {
            failsAndIsRepaired(20 * i);
        }
        Optional<Baseline> baseline = Optional.of(peers(self()));

        Flag flag = flag(taught(400, baseline), Flag.Kind.FREQUENT).orElseThrow();

        assertEquals(NETWORK, flag.place());
        assertTrue(flag.since().isBefore(day(361)));
        double ends = MeterLine.daysBetween(START, flag.expiresAt().orElseThrow());
        assertTrue(flag(taught(ends - 0.01, baseline), Flag.Kind.FREQUENT).isPresent());
        assertFalse(flag(taught(ends + 0.01, baseline), Flag.Kind.FREQUENT).isPresent());
        assertTrue(taught(400, baseline).view().trails().stream().map(Trail::flags).allMatch(flags -> flags.contains(flag)));
        assertEquals(1, taught(400, baseline).view().flags().stream().filter(one -> one.kind() == Flag.Kind.FREQUENT).count());
    }

    @Test
    void frequent_likePeers_orWithoutBaseline_isNotTold() {
        visit(0, Optional.empty(), false);
        failsAndIsRepaired(100);
        failsAndIsRepaired(300);

        assertEquals(Optional.empty(), flag(taught(400, Optional.of(peers(self()))), Flag.Kind.FREQUENT));
        assertEquals(Optional.empty(), flag(taught(400, Optional.empty()), Flag.Kind.FREQUENT));
    }
}
