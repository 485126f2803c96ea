package comebackledger.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.bus.SimulatedBuild.Known;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Suspects on simulated networks with known truth, against Monte-Carlo Bayes that knows the simulator. */
class BusSimulationTest {
    /** Probabilities told and what came true, by tenths. */
    private static final class Calibration {
        final double[] told = new double[10];
        final double[] true_ = new double[10];

        void add(double probability, boolean came) {
            int tenth = (int) Math.min(9, probability * 10);
            told[tenth] += probability;
            true_[tenth] += came ? 1 : 0;
        }

        /** Expected error: |told − true| by tenths, over this many. */
        double error(int all) {
            double error = 0;
            for (int i = 0; i < told.length; i++) {
                error += Math.abs(told[i] - true_[i]);
            }
            return error / all;
        }
    }

    /** A tally of one run. */
    private static final class Tally {
        int cases;
        int oracleFirst;
        int bothFirst;
        int ourFirst;
        int decided;
        int decidedFirst;
        /** Of the first suspect, and of every suspect told. */
        final Calibration first = new Calibration();
        final Calibration every = new Calibration();
        final Map<String, int[]> byCause = new TreeMap<>();

        @Override
        public String toString() {
            return cases + " cases: true fault first in " + ourFirst + ", oracle's in " + oracleFirst + ", both " + bothFirst
                    + "; where the readings decide " + decidedFirst + " of " + decided + "; calibration error of the first suspect "
                    + first.error(cases) + ", of all suspects summed by case " + every.error(cases) + "; by cause (cases, oracle, ours) "
                    + byCause.entrySet().stream().map(entry -> entry.getKey() + " " + Arrays.toString(entry.getValue())).toList();
        }
    }

    private static Tally run(int builds, int casesEach, int worldsPerCause, long seed) {
        Tally tally = new Tally();
        for (int build = 0; build < builds; build++) {
            SplittableRandom random = new SplittableRandom(seed + build);
            Known known = Known.values()[build % 4];
            Circuit told = SimulatedBuild.told(random, random.nextInt(3, 14), known);
            Oracle oracle = new Oracle(random, told, worldsPerCause);
            for (int i = 0; i < casesEach; i++) {
                Simulated.Truth truth = Simulated.draw(random, told);
                Simulated.Plan plan = Simulated.Plan.draw(random, truth);
                BusReadings readings = Simulated.read(random, truth, plan);
                Map<String, Double> best = oracle.judge(readings, truth, plan);
                if (!best.isEmpty()) {
                    count(tally, truth, best, ours(BusCheck.judge(told, readings, Simulated.evidence(truth, plan), CheckPolicy.DEFAULT), truth));
                }
            }
        }
        return tally;
    }

    /** By fault and place, as the truth is named; a suspect that is any module is the true one if the kind is. */
    static Map<String, Double> ours(BusVerdict verdict, Simulated.Truth truth) {
        Map<String, Double> found = new LinkedHashMap<>();
        for (BusVerdict.Suspect suspect : verdict.suspects()) {
            List<String> keys = new ArrayList<>(List.of(key(suspect.fault(), suspect.part(), truth)));
            suspect.also().forEach(second -> keys.add(key(second.fault(), second.part(), truth)));
            found.merge(keys.stream().sorted().collect(Collectors.joining(" and ")), suspect.probability(), Double::sum);
        }
        return found;
    }

    private static String key(FaultKind fault, Optional<String> part, Simulated.Truth truth) {
        FaultKind kind = fault == FaultKind.INTERMITTENT_NONE_PRESENT ? FaultKind.NONE_FOUND : fault;
        Optional<String> ofAny = truth.faults().stream().filter(one -> one.kind() == kind).findFirst().flatMap(Fault::part);
        return Simulated.key(kind, Ranking.isModule(kind) && part.isEmpty() ? ofAny : part);
    }

    static String first(Map<String, Double> probabilities) {
        return probabilities.entrySet().stream().filter(entry -> !entry.getKey().equals("other")).max(Comparator.comparingDouble(Map.Entry::getValue))
                .map(Map.Entry::getKey).orElse("");
    }

    private static void count(Tally tally, Simulated.Truth truth, Map<String, Double> oracle, Map<String, Double> ours) {
        String key = truth.key();
        String first = first(ours);
        boolean oracleFirst = first(oracle).equals(key);
        boolean ourFirst = first.equals(key);
        tally.cases++;
        tally.oracleFirst += oracleFirst ? 1 : 0;
        tally.ourFirst += ourFirst ? 1 : 0;
        tally.bothFirst += oracleFirst && ourFirst ? 1 : 0;
        if (oracleFirst && oracle.getOrDefault(key, 0.0) >= 0.9) {
            tally.decided++;
            tally.decidedFirst += ourFirst ? 1 : 0;
        }
        tally.first.add(ours.getOrDefault(first, 0.0), ourFirst);
        ours.forEach((name, probability) -> tally.every.add(probability, name.equals(key)));
        int[] cause = tally.byCause.computeIfAbsent(truth.faults().size() == 2 ? "pair" : truth.kind().word(), _ -> new int[3]);
        cause[0]++;
        cause[1] += oracleFirst ? 1 : 0;
        cause[2] += ourFirst ? 1 : 0;
    }

    /** Bounds a little under the ones of the long run: 160 cases. */
    @Test
    void suspects_onSimulatedNetworks_areNearTheOracles() {
        Tally tally = run(4, 40, 800, 71);

        assertTrue(tally.bothFirst >= 0.75 * tally.oracleFirst, tally::toString);
        assertTrue(tally.ourFirst >= 0.90 * tally.oracleFirst, tally::toString);
        assertTrue(tally.decidedFirst >= 0.92 * tally.decided, tally::toString);
    }

    /** 1 280 cases: chance alone makes an error of about 0.03 of ten tenths. */
    @Test
    void probabilities_onSimulatedNetworks_comeTrue() {
        Tally tally = new Tally();
        for (int build = 0; build < 16; build++) {
            SplittableRandom random = new SplittableRandom(900 + build);
            Circuit told = SimulatedBuild.told(random, random.nextInt(3, 14), Known.values()[build % 4]);
            for (int i = 0; i < 80; i++) {
                Simulated.Truth truth = Simulated.draw(random, told);
                Simulated.Plan plan = Simulated.Plan.draw(random, truth);
                BusReadings readings = Simulated.read(random, truth, plan);
                count(tally, truth, Map.of(), ours(BusCheck.judge(told, readings, Simulated.evidence(truth, plan), CheckPolicy.DEFAULT), truth));
            }
        }

        assertTrue(tally.first.error(tally.cases) <= 0.05, tally::toString);
        assertTrue(tally.every.error(tally.cases) <= 0.07, tally::toString);
    }

    /** True fault first in 0.97 of the cases that the readings decide, in 0.92 of all; calibrated to 0.05. */
    @Tag("long")
    @Test
    void suspects_onManySimulatedNetworks_reachTheOracles() {
        Tally tally = run(20, 250, 8_000, 171);

        System.out.println(tally);
        assertTrue(tally.ourFirst >= 0.92 * tally.oracleFirst, tally::toString);
        assertTrue(tally.decidedFirst >= 0.97 * tally.decided, tally::toString);
        assertTrue(tally.first.error(tally.cases) <= 0.05, tally::toString);
        assertTrue(tally.every.error(tally.cases) <= 0.05, tally::toString);
    }

    /** The same question gives the same answer, bit for bit. */
    @Test
    void judge_whenAskedTwice_answersTheSame() {
        SplittableRandom random = new SplittableRandom(3);
        Simulated.Truth truth = Simulated.draw(random, SimulatedBuild.told(random, 9, Known.PLACES));
        BusReadings readings = Simulated.read(random, truth, new Simulated.Plan(true, true, true, true, true, true));
        Evidence evidence = Simulated.evidence(truth, new Simulated.Plan(true, true, true, true, true, true));

        BusVerdict first = BusCheck.judge(truth.told(), readings, evidence, CheckPolicy.DEFAULT);

        assertEquals(first, BusCheck.judge(truth.told(), readings, evidence, CheckPolicy.DEFAULT));
    }
}
