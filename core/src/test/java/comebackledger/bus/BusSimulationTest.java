package comebackledger.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Suspects on simulated networks with known truth, against Monte-Carlo Bayes that knows the simulator. */
class BusSimulationTest {
    /** A tally of one run. */
    private static final class Tally {
        int cases;
        int oracleFirst;
        int bothFirst;
        int ourFirst;
        int decided;
        int decidedFirst;
        final double[] told = new double[10];
        final double[] true_ = new double[10];
        final int[] counts = new int[10];

        /** Expected calibration error over all probabilities told: |told − true| by tenths, weighed by how many were told. */
        double calibrationError() {
            double error = 0;
            int all = 0;
            for (int i = 0; i < told.length; i++) {
                error += Math.abs(told[i] - true_[i]);
                all += counts[i];
            }
            return error / all;
        }

        @Override
        public String toString() {
            return cases + " cases: true fault first in " + ourFirst + ", oracle's in " + oracleFirst + ", both " + bothFirst
                    + "; where the readings decide "
                    + decidedFirst + " of " + decided + "; calibration error " + calibrationError();
        }
    }

    private static Tally run(int builds, int casesEach, int worldsPerKind, long seed) {
        Tally tally = new Tally();
        for (int build = 0; build < builds; build++) {
            SplittableRandom random = new SplittableRandom(seed + build);
            Circuit told = Simulated.build(random, random.nextInt(3, 14), build % 2 == 0);
            Oracle oracle = new Oracle(random, told, worldsPerKind);
            for (int i = 0; i < casesEach; i++) {
                Simulated.Truth truth = Simulated.draw(random, told);
                Simulated.Plan plan = Simulated.Plan.draw(random);
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
    private static Map<String, Double> ours(BusVerdict verdict, Simulated.Truth truth) {
        Map<String, Double> found = new LinkedHashMap<>();
        for (BusVerdict.Suspect suspect : verdict.suspects()) {
            boolean anyModule = Ranking.isModule(suspect.fault()) && suspect.part().isEmpty();
            Optional<String> part = anyModule && suspect.fault() == truth.kind() ? truth.part() : suspect.part();
            String also = suspect.also().isEmpty() ? "" : " and " + suspect.also();
            found.merge(suspect.fault().word() + part.map(name -> " " + name).orElse("") + also, suspect.probability(), Double::sum);
        }
        return found;
    }

    private static String first(Map<String, Double> probabilities) {
        return probabilities.entrySet().stream().filter(entry -> !entry.getKey().equals("other")).max(Comparator.comparingDouble(Map.Entry::getValue))
                .map(Map.Entry::getKey).orElse("");
    }

    private static void count(Tally tally, Simulated.Truth truth, Map<String, Double> oracle, Map<String, Double> ours) {
        String key = Oracle.key(truth);
        boolean oracleFirst = first(oracle).equals(key);
        boolean ourFirst = first(ours).equals(key);
        tally.cases++;
        tally.oracleFirst += oracleFirst ? 1 : 0;
        tally.ourFirst += ourFirst ? 1 : 0;
        tally.bothFirst += oracleFirst && ourFirst ? 1 : 0;
        if (oracleFirst && oracle.getOrDefault(key, 0.0) >= 0.9) {
            tally.decided++;
            tally.decidedFirst += ourFirst ? 1 : 0;
        }
        ours.forEach((name, probability) -> {
            int tenth = (int) Math.min(9, probability * 10);
            tally.told[tenth] += probability;
            tally.true_[tenth] += name.equals(key) ? 1 : 0;
            tally.counts[tenth]++;
        });
    }

    /** Bounds a little under the ones of the long run: 200 cases. */
    @Test
    void suspects_onSimulatedNetworks_areNearTheOracles() {
        Tally tally = run(4, 50, 1_500, 71);

        assertTrue(tally.bothFirst >= 0.85 * tally.oracleFirst, tally::toString);
        assertTrue(tally.decidedFirst >= 0.93 * tally.decided, tally::toString);
        assertTrue(tally.calibrationError() <= 0.05, tally::toString);
    }

    /** True fault first in 0.97 of the cases that the readings decide, in 0.92 of all; calibrated to 0.05. */
    @Tag("long")
    @Test
    void suspects_onManySimulatedNetworks_reachTheOracles() {
        Tally tally = run(20, 250, 20_000, 171);

        System.out.println(tally);
        assertTrue(tally.ourFirst >= 0.92 * tally.oracleFirst, tally::toString);
        assertTrue(tally.decidedFirst >= 0.97 * tally.decided, tally::toString);
        assertTrue(tally.calibrationError() <= 0.05, tally::toString);
    }

    /** The same question gives the same answer, bit for bit. */
    @Test
    void judge_whenAskedTwice_answersTheSame() {
        SplittableRandom random = new SplittableRandom(3);
        Simulated.Truth truth = Simulated.draw(random, Simulated.build(random, 9, false));
        BusReadings readings = Simulated.read(random, truth, new Simulated.Plan(true, true, true));
        Evidence evidence = Simulated.evidence(truth, new Simulated.Plan(true, true, true));

        BusVerdict first = BusCheck.judge(truth.told(), readings, evidence, CheckPolicy.DEFAULT);

        assertEquals(first, BusCheck.judge(truth.told(), readings, evidence, CheckPolicy.DEFAULT));
    }
}
