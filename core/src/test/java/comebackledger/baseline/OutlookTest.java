package comebackledger.baseline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** The chance of a new episode against simulated fleets whose truth is known, and against one who knows the simulator. */
class OutlookTest {
    private static final Instant AT = SimulatedFleet.day(SimulatedFleet.LEARNED_AT_DAY);

    /** What was told of one unit and what came of it. */
    private record Told(Chance chance, double baseRate, SimulatedFleet.Case truth) {}

    private static List<Told> tell(SimulatedFleet.Truth truth, int fleets, int units, long seed) {
        List<Told> told = new ArrayList<>();
        for (int i = 0; i < fleets; i++) {
            SimulatedFleet fleet = new SimulatedFleet(truth, units, seed + i);
            Baseline baseline = Baseline.learn(row -> fleet.cases.forEach(one -> row.accept(one.unit())), AT).kept(1, AT);
            PeerRate all = baseline.km().every().get(Lessons.ALL).fleet();
            for (SimulatedFleet.Case one : fleet.cases) {
                Chance chance = assertInstanceOf(Outlook.Answer.Known.class, outlook(one.unit(), baseline).at(AT, trip(one.tripKm()))).chance();
                told.add(new Told(chance, -Math.expm1(-all.events() / all.exposure() * one.tripKm()), one));
            }
        }
        return told;
    }

    private static Outlook outlook(UnitSummary unit, Baseline baseline) {
        return Outlook.of(unit, Usage.own(unit, AT).or(baseline.usage(unit.group())), Drifts.NONE, Optional.of(baseline), AT);
    }

    private static Outlook.Trip trip(double km) {
        return new Outlook.Trip(OptionalDouble.of(km), OptionalDouble.empty());
    }

    private interface Guess {
        double of(Told told);
    }

    /** Brier skill over the base rate that knows the trip's distance. */
    private static double skill(List<Told> told, Guess guess) {
        double ours = 0;
        double base = 0;
        for (Told one : told) {
            double outcome = one.truth().opened() ? 1 : 0;
            ours += Math.pow(guess.of(one) - outcome, 2);
            base += Math.pow(one.baseRate() - outcome, 2);
        }
        return 1 - ours / base;
    }

    private static double mean(List<Told> told, Guess guess) {
        return told.stream().mapToDouble(guess::of).average().orElseThrow();
    }

    private static void assertCalibrated(List<Told> told, double within) {
        List<Told> sorted = told.stream().sorted(Comparator.comparingDouble(one -> one.chance().probability())).toList();
        List<Told> worst = sorted.subList(sorted.size() * 9 / 10, sorted.size());
        double said = mean(worst, one -> one.chance().probability());
        double came = mean(worst, one -> one.truth().opened() ? 1 : 0);
        assertEquals(came, said, within * came, "worst tenth");
    }

    /** 8 fleets of 800 units. The oracle's own skill has a spread over seeds; ours moves with it, so the ratio is steady. */
    @Test
    void chance_ofUnevenFleets_isNearlyTheOraclesAndCalibrated() {
        List<Told> told = tell(SimulatedFleet.Truth.UNEVEN, 8, 800, 100);

        double oracle = skill(told, one -> one.truth().oracle());
        assertTrue(skill(told, one -> one.chance().probability()) >= 0.8 * oracle, "oracle " + oracle);
        assertCalibrated(told, 0.25);
    }

    /** The interval speaks of the unit's rate: where every repair holds, 95 % of the true chances lie inside (four standard errors are 0.012). */
    @Test
    void interval_coversTheTrueChance_whereRepairsHold() {
        SimulatedFleet.Truth holding = new SimulatedFleet.Truth(1.5, 1 / 60_000.0, new double[]{0, 0, 0}, 0, 5000, 10);
        List<Told> told = tell(holding, 6, 800, 300);

        double covered = mean(told, one -> {
            double truth = -Math.expm1(-one.truth().rate() * one.truth().tripKm());
            return one.chance().low() <= truth && truth <= one.chance().high() ? 1 : 0;
        });
        assertEquals(0.95, covered, 0.02);
    }

    /** By tenths over 100 000 trips of each kind of fleet. */
    @Test
    @Tag("long")
    void chance_isCalibratedByTenths_andAtLeastNineTenthsOfTheOraclesSkill() {
        for (SimulatedFleet.Truth truth : List.of(SimulatedFleet.Truth.COMMON, SimulatedFleet.Truth.UNEVEN)) {
            List<Told> told = tell(truth, 125, 800, 1000);
            List<Told> sorted = told.stream().sorted(Comparator.comparingDouble(one -> one.chance().probability())).toList();
            StringBuilder figures = new StringBuilder(truth.toString());
            for (int tenth = 0; tenth < 10; tenth++) {
                List<Told> some = sorted.subList(sorted.size() * tenth / 10, sorted.size() * (tenth + 1) / 10);
                double said = mean(some, one -> one.chance().probability());
                double came = mean(some, one -> one.truth().opened() ? 1 : 0);
                figures.append(String.format("%n%.4f said, %.4f came", said, came));
                // Four binomial standard errors beside a tenth of the figure.
                assertEquals(came, said, 0.1 * came + 4 * Math.sqrt(Math.max(said, 1e-4) / some.size()), figures.toString());
            }
            double oracle = skill(told, one -> one.truth().oracle());
            double ours = skill(told, one -> one.chance().probability());
            System.out.println(figures + String.format("%nskill %.4f, oracle %.4f", ours, oracle));
            assertTrue(ours >= 0.9 * oracle, figures.toString());
            assertCalibrated(told, 0.1);
        }
    }

    @Test
    void learning_findsTheTruthOfTheFleet() {
        SimulatedFleet.Truth truth = SimulatedFleet.Truth.UNEVEN;
        SimulatedFleet fleet = new SimulatedFleet(truth, 3000, 7);

        Baseline baseline = Baseline.learn(row -> fleet.cases.forEach(one -> row.accept(one.unit())), AT);

        PeerRate fresh = baseline.km().fresh(Optional.of("linehaul"));
        assertEquals(PeerRate.Level.GROUP, fresh.level());
        // 3000 units pin the mean to a thirtieth and the shape to a twentieth.
        assertEquals(truth.meanRate(), fresh.mean(), 0.1 * truth.meanRate());
        assertEquals(truth.shape(), fresh.shape(), 0.15 * truth.shape());
        assertEquals(1.0 / truth.places(), baseline.km().returns().placeShare(), 0.2 / truth.places());
        assertEquals(250, baseline.usage(Optional.of("linehaul")).kmPerDay().orElseThrow(), 12);
    }

    /** Every other visit on which a repair came back read no odometer: those returns are fresh faults or not, as the others are, and none is lost. */
    @Test
    void learning_whereReturnsWereNotMetered_findsTheSame() {
        SimulatedFleet fleet = new SimulatedFleet(SimulatedFleet.Truth.UNEVEN, 3000, 7);
        List<UnitSummary> metered = fleet.cases.stream().map(SimulatedFleet.Case::unit).toList();
        List<UnitSummary> unmetered = metered.stream().map(OutlookTest::withoutEveryOtherReturn).toList();

        Lessons known = Baseline.learn(metered::forEach, AT).km();
        Lessons guessed = Baseline.learn(unmetered::forEach, AT).km();

        assertEquals(known.returns().returns(), guessed.returns().returns());
        double mean = known.fresh(Optional.empty()).mean();
        assertEquals(mean, guessed.fresh(Optional.empty()).mean(), 0.02 * mean);
        assertEquals(known.returns().holds().expected("network/replaced", 8000), guessed.returns().holds().expected("network/replaced", 8000),
                0.1 * known.returns().holds().expected("network/replaced", 8000));
    }

    private static UnitSummary withoutEveryOtherReturn(UnitSummary unit) {
        List<UnitSummary.Mended> repairs = new ArrayList<>();
        for (UnitSummary.Mended repair : unit.repairs()) {
            repairs.add(repairs.size() % 2 == 0 ? repair : unmetered(repair));
        }
        return new UnitSummary(unit.unit(), unit.group(), unit.tags(), unit.inServiceAt(), unit.retiredAt(), unit.firstVisitAt(), unit.lastVisitAt(),
                unit.meteredVisits(), unit.km(), unit.engineHours(), unit.episodes(), repairs);
    }

    private static UnitSummary.Mended unmetered(UnitSummary.Mended repair) {
        return new UnitSummary.Mended(repair.system(), repair.place(), repair.visit(), repair.at(), repair.action(), repair.cause(),
                repair.closedEpisode(), repair.kmAt(), repair.engineHoursAt(), repair.nextEpisodeAt(), OptionalDouble.empty(),
                OptionalDouble.empty(), repair.nextRepairAt(), OptionalDouble.empty(), OptionalDouble.empty());
    }

    @Test
    void learning_isTheSameTwice() {
        SimulatedFleet fleet = new SimulatedFleet(SimulatedFleet.Truth.COMMON, 100, 3);

        assertEquals(Baseline.learn(row -> fleet.cases.forEach(one -> row.accept(one.unit())), AT),
                Baseline.learn(row -> fleet.cases.forEach(one -> row.accept(one.unit())), AT));
    }

    @Test
    void learning_fromAlmostNothing_leansOnWeakFiguresAndSaysSo() {
        SimulatedFleet fleet = new SimulatedFleet(SimulatedFleet.Truth.COMMON, 2, 3);
        Baseline baseline = Baseline.learn(row -> fleet.cases.forEach(one -> row.accept(one.unit())), AT).kept(1, AT);

        Chance chance = assertInstanceOf(Outlook.Answer.Known.class, outlook(fleet.cases.getFirst().unit(), baseline).at(AT, trip(800))).chance();

        assertTrue(chance.basis().contains("weak figures of common practice"), chance.basis());
    }

    @Test
    void chance_growsWithTheTrip_andOfHoursNeedsUsage() {
        SimulatedFleet fleet = new SimulatedFleet(SimulatedFleet.Truth.COMMON, 50, 3);
        Baseline baseline = Baseline.learn(row -> fleet.cases.forEach(one -> row.accept(one.unit())), AT).kept(1, AT);
        Outlook outlook = outlook(fleet.cases.getFirst().unit(), baseline);

        Chance brief = assertInstanceOf(Outlook.Answer.Known.class, outlook.at(AT, trip(10))).chance();
        Chance far = assertInstanceOf(Outlook.Answer.Known.class, outlook.at(AT, trip(10_000))).chance();

        assertTrue(brief.probability() < far.probability());
        assertInstanceOf(Outlook.Answer.Absent.class, outlook.at(AT, new Outlook.Trip(OptionalDouble.empty(), OptionalDouble.of(10))));
    }

    @Test
    void chance_ofAUnitNeverSeen_isAbsent() {
        Baseline baseline = Baseline.learn(_ -> {}, AT).kept(1, AT);
        UnitSummary unseen = new UnitSummary("T-9", Optional.empty(), new TreeMap<>(), Optional.empty(), Optional.empty(), Optional.empty(),
                Optional.empty(), List.of(), List.of(), List.of());

        assertInstanceOf(Outlook.Answer.Absent.class, outlook(unseen, baseline).at(AT, trip(800)));
    }
}
