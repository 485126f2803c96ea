package comebackledger.fleet;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.policy.Policy;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.apache.commons.numbers.gamma.RegularizedGamma;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Expectations are the project's own rules of exposure and ranking, worked by hand; then fleets whose truth is known. */
class OffendersTest {
    private static final FleetQuestion NOW = new FleetQuestion(Optional.empty(), Optional.empty(), SimulatedFleet.AT);

    private static Offenders offenders(double day, Row... rows) {
        return Offenders.of(Row.rows(rows), Row.at(day), Policy.DEFAULT, 100);
    }

    private static Offenders.Item item(Offenders offenders, String unit) {
        return offenders.ranked().stream().filter(item -> item.unit().equals(unit)).findFirst().orElseThrow();
    }

    @Test
    void exposure_atTheLastReading_isMeasured() {
        Offenders offenders = offenders(100, new Row("A").visit(0, 1000).visit(100, 31_000));

        assertEquals(new Offenders.Exposure(Optional.of(30_000.0), 100, false), item(offenders, "A").exposure());
    }

    /** 300 km a day for 10 days more. */
    @Test
    void exposure_beyondTheLastReading_runsOnAtOwnUsageAndSaysSo() {
        Offenders offenders = offenders(110, new Row("A").visit(0, 1000).visit(100, 31_000));

        assertEquals(new Offenders.Exposure(Optional.of(33_000.0), 110, true), item(offenders, "A").exposure());
    }

    /** One reading tells no usage: its group goes 300 km a day, the other group 100. */
    @Test
    void exposure_withOneReading_runsOnAtTheGroupsUsage() {
        Offenders offenders = offenders(100, new Row("A").group("g").visit(0, 0).visit(100, 30_000), new Row("B").group("g").visit(90, 5000),
                new Row("C").group("h").visit(0, 0).visit(100, 10_000));

        assertEquals(new Offenders.Exposure(Optional.of(3000.0), 10, true), item(offenders, "B").exposure());
    }

    /** Its group goes 300, 400 and 900 km a day, whoever was read first. */
    @Test
    void exposure_withOneReading_runsOnAtTheMedianOfAllItsGroup() {
        Offenders offenders = offenders(100, new Row("A").group("g").visit(0, 0).visit(100, 90_000), new Row("B").group("g").visit(90, 5000),
                new Row("C").group("g").visit(0, 0).visit(100, 30_000), new Row("D").group("g").visit(0, 0).visit(100, 40_000));

        assertEquals(new Offenders.Exposure(Optional.of(4000.0), 10, true), item(offenders, "B").exposure());
    }

    /** 100 days at 300 km, a silent stretch of 10 days, 90 days at 300 km. */
    @Test
    void exposure_acrossAReplacedMeter_isBridgedByUsageAndSaysSo() {
        Row row = new Row("A").visit(0, 1000).visit(100, 31_000).newMeter().visit(110, 50).visit(200, 27_050);

        Offenders offenders = offenders(200, row);

        assertEquals(new Offenders.Exposure(Optional.of(60_000.0), 200, true), item(offenders, "A").exposure());
    }

    @Test
    void unitWithoutExposure_isNotRankedAndWhyIsSaid() {
        Offenders offenders = offenders(10, new Row("A").visit(0, 0).visit(9, 900), new Row("B"), new Row("C").inService(20),
                new Row("D").visit(10, 5));

        assertEquals(List.of("A"), offenders.ranked().stream().map(Offenders.Item::unit).toList());
        assertEquals(List.of("B", "C", "D"), offenders.notRanked().stream().map(Offenders.NotRanked::unit).toList());
        assertEquals(3, offenders.notRanked().stream().map(Offenders.NotRanked::why).distinct().count());
    }

    /** Crude 2 in 200 days; 300 km a day is usual, so 2 in 60 000 km. */
    @Test
    void unitWithoutDistance_isComparedByDays() {
        Offenders offenders = offenders(200, new Row("A").visit(0, 0).visit(200, 60_000), new Row("B").visit(0).fresh(10).comeback(20).comeback(30));

        Offenders.Item item = item(offenders, "B");
        assertEquals(1, item.rank());
        assertEquals(new Offenders.Exposure(Optional.empty(), 200, true), item.exposure());
        assertEquals(10, item.per1000Days().orElseThrow().crude(), 1e-9);
        assertEquals(2 / 0.6, item.per100000Km().orElseThrow().crude(), 1e-9);
    }

    @Test
    void counts_leaveOutWhatIsLaterAndWhatHadNoFault() {
        Row row = new Row("A").visit(0, 0).fresh(10).comeback(20).noFaultFound(25).comeback(30).noFaultFound(200).visit(300, 30_000);

        Offenders.Item item = item(offenders(25, row), "A");

        assertEquals(1, item.comebacks());
        assertEquals(2, item.episodes());
        assertEquals(1, item.noFaultFound());
    }

    /** Ten returns in all do not tell whether the units' repairs differ, and the likelihood alone says that they do not: then only what is fresh would rank. */
    @Test
    void returnsOfItsOwn_rankAUnit_whereTheFleetIsTooSmallToTellItsRepairsApart() {
        List<Row> rows = new ArrayList<>();
        for (int i = 0; i < 24; i++) {
            Row peer = new Row("P" + i).visit(0, 0).fresh(50).fresh(120);
            rows.add((i < 7 ? peer.comeback(130) : peer).visit(200, 400_000));
        }
        rows.add(new Row("A").visit(0, 0).fresh(10).comeback(20).fresh(50).comeback(60).fresh(90).visit(200, 32_000));
        rows.add(new Row("B").visit(0, 0).fresh(10).fresh(50).comeback(60).fresh(90).fresh(120).fresh(150).visit(200, 73_000));

        Offenders offenders = offenders(200, rows.toArray(Row[]::new));

        assertTrue(item(offenders, "A").rank() < item(offenders, "B").rank(), () -> item(offenders, "A") + " after " + item(offenders, "B"));
    }

    @Test
    void reasons_sayReturnsDistancePeersAndOdds() {
        List<Row> rows = new ArrayList<>();
        for (int i = 0; i < 20; i++) {
            rows.add(new Row("P" + i).visit(0, 0).fresh(50).visit(100, 61_000));
        }
        Row bad = new Row("A").visit(0, 0);
        for (int i = 0; i < 7; i++) {
            bad.fresh(10 * i + 1).comeback(10 * i + 5);
        }
        rows.add(bad.visit(100, 61_000));

        Offenders offenders = offenders(100, rows.toArray(Row[]::new));

        String reason = offenders.ranked().getFirst().reasons().getFirst();
        assertTrue(reason.matches("7 returns in 61 000 km where its peers have 0\\.[0-9]; odds .*[0-9]+ in 100 that it is among the worst 5 %\\."),
                reason);
    }

    /** Of one unit alone nothing can be told beside others: the reason says so and speaks of no peers. */
    @Test
    void reasons_ofTheOnlyUnit_speakOfNoPeers() {
        Row alone = new Row("A").visit(0, 0).fresh(1).comeback(5).visit(100, 61_000);

        Offenders offenders = offenders(100, alone);

        String reason = offenders.ranked().getFirst().reasons().getFirst();
        assertTrue(reason.startsWith("1 return in 61 000 km; no other unit"), reason);
        assertFalse(reason.contains("peers"), reason);
    }

    @Test
    void group_isComparedWithItselfOnly() {
        FleetQuestion question = new FleetQuestion(Optional.of("g"), Optional.empty(), Row.day(100));

        Offenders offenders = Offenders.of(Row.rows(new Row("A").group("g").visit(0, 0).visit(100, 1000), new Row("B").visit(0, 0).visit(100, 1000)),
                question, Policy.DEFAULT, 100);

        assertEquals(List.of("A"), offenders.ranked().stream().map(Offenders.Item::unit).toList());
    }

    /** 1, then 3 in one chain: (1 + 9)/(1 + 3). */
    @Test
    void clusters_areReturnsThatFollowEachOther() {
        UnitSummary row = new Row("A").fresh(1).comeback(2).fresh(40).comeback(41).comeback(42).comeback(43).fresh(90).row();
        Clusters clusters = new Clusters();

        clusters.add(row.episodes());

        assertEquals(2.5, clusters.factor(), 1e-12);
    }

    /** The same rows in another order, and a unit whose usage its peers must tell. */
    @Test
    void answer_doesNotHangOnTheOrderOfRows() {
        SimulatedFleet fleet = new SimulatedFleet(SimulatedFleet.Law.USUAL.of(60), 3);

        Offenders one = Offenders.of(fleet::each, NOW, Policy.DEFAULT, 100);
        Offenders other = Offenders.of(use -> fleet.rows.reversed().forEach(use), NOW, Policy.DEFAULT, 100);

        assertEquals(one, other);
    }

    @Test
    void smallFleets_pickTheWorstAndCoverTheRates() {
        check(2, 400, 11);
    }

    /** DESIGN.md 9: figures of 20 fleets of 800 units. */
    @Test
    @Tag("long")
    void twentyFleets_pickTheWorstAndCoverTheRates() {
        check(20, 800, 101);
    }

    /** The oracle knows the law of the simulator; it may not know the units. Naive is counting returns. */
    private static void check(int fleets, int units, long seed) {
        SimulatedFleet.Law law = SimulatedFleet.Law.USUAL.of(units);
        int picked = 0;
        int oracle = 0;
        int better = 0;
        int called = 0;
        int calledFalsely = 0;
        int covered = 0;
        int all = 0;
        for (int i = 0; i < fleets; i++) {
            SimulatedFleet fleet = new SimulatedFleet(law, seed + i);
            Map<String, SimulatedFleet.Truth> truths = fleet.truths.stream().collect(Collectors.toMap(SimulatedFleet.Truth::unit, one -> one));
            int worstCount = units / 20;
            Set<String> worst = fleet.truths.stream().sorted(Comparator.comparingDouble(truth -> -truth.returnsPer100000Km())).limit(worstCount)
                    .map(SimulatedFleet.Truth::unit).collect(Collectors.toCollection(HashSet::new));
            double mean = fleet.truths.stream().mapToDouble(SimulatedFleet.Truth::returnsPer100000Km).average().orElseThrow();
            List<Offenders.Item> ranked = Offenders.of(fleet::each, NOW, Policy.DEFAULT, units).ranked();
            int here = right(ranked, worst);
            picked += here;
            oracle += right(ranked.stream().sorted(Comparator.comparingDouble(item -> -Oracle.worst(item, truths.get(item.unit()), law))).toList(),
                    worst);
            better += here > right(ranked.stream().sorted(Comparator.comparingInt(item -> -item.comebacks())).toList(), worst) ? 1 : 0;
            for (Offenders.Item item : ranked) {
                double truth = truths.get(item.unit()).returnsPer100000Km();
                called += item.qValue() < 0.05 ? 1 : 0;
                calledFalsely += item.qValue() < 0.05 && truth <= mean ? 1 : 0;
                if (item.per1000Days().isEmpty()) {
                    all++;
                    Offenders.Rate rate = item.per100000Km().orElseThrow();
                    covered += truth >= rate.low() && truth <= rate.high() ? 1 : 0;
                }
            }
        }
        assertTrue(picked >= 0.95 * oracle, picked + " of the worst picked, the oracle " + oracle);
        assertTrue(better >= 0.95 * fleets, "better than counting in " + better);
        assertTrue(calledFalsely <= 0.05 * called, calledFalsely + " of " + called + " called falsely");
        assertTrue(covered >= 0.92 * all, covered + " of " + all + " covered");
    }

    private static int right(List<Offenders.Item> ranked, Set<String> worst) {
        return (int) ranked.stream().limit(worst.size()).filter(item -> worst.contains(item.unit())).count();
    }

    /** What one who knows the law makes of a unit: fresh episodes tell its frailty, all repairs fail alike. */
    private static final class Oracle {
        /** Near the rate that the worst twentieth of the law's units have: 2.2 times the usual. */
        private static final double CUT = 2.2;

        static double worst(Offenders.Item item, SimulatedFleet.Truth truth, SimulatedFleet.Law law) {
            double exposure = truth.km() / 100_000;
            int fresh = item.episodes() - item.comebacks();
            double usual = component(law.spread(), law.freshPer100000Km(), fresh, exposure) * (1 - law.badActors());
            double bad = component(law.spread(), law.freshPer100000Km() * law.badRate(), fresh, exposure) * law.badActors();
            double cut = CUT * law.freshPer100000Km();
            return (usual * above(law.spread(), law.freshPer100000Km(), fresh, exposure, cut)
                    + bad * above(law.spread(), law.freshPer100000Km() * law.badRate(), fresh, exposure, cut)) / (usual + bad);
        }

        private static double component(double shape, double mean, int fresh, double exposure) {
            double rate = shape / mean;
            return Math.exp(shape * Math.log(rate / (rate + exposure)) - fresh * Math.log(rate + exposure));
        }

        private static double above(double shape, double mean, int fresh, double exposure, double cut) {
            return RegularizedGamma.Q.value(shape + fresh, (shape / mean + exposure) * cut);
        }
    }

    /** Instants are compared, never guessed. */
    @Test
    void at_beforeTheFirstVisit_ranksNothing() {
        FleetQuestion early = new FleetQuestion(Optional.empty(), Optional.empty(), Instant.parse("2020-01-01T00:00:00Z"));

        Offenders offenders = Offenders.of(Row.rows(new Row("A").visit(0, 0).comeback(5).visit(100, 1000)), early, Policy.DEFAULT, 100);

        assertEquals(List.of(), offenders.ranked());
    }
}
