package comebackledger.bus;

import comebackledger.measure.OverRange;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;

/**
 * The technician that knows the simulator: many of its networks, weighed by everything seen so far, and always the test with the most
 * information per minute between their faults. It ends where the other technicians do, at the same odds of the same judge: what is compared is the
 * choice of the tests, and few worlds make rash ends.
 */
final class OracleTechnician {
    private static final double NOISE_SHARE = 0.0046; // 0.8 % / √3
    private static final double BIN_SD = 3;

    private final List<SimulatedTest.Network> worlds = new ArrayList<>();
    private final double[] odds;

    OracleTechnician(SplittableRandom random, Circuit told, int perCause) {
        List<Double> all = new ArrayList<>();
        for (Simulated.Cause cause : Simulated.Cause.ALL) {
            for (int i = 0; i < perCause; i++) {
                worlds.add(new SimulatedTest.Network(Simulated.of(random, told, cause)));
                all.add(Math.log(cause.odds() / perCause));
            }
        }
        this.odds = all.stream().mapToDouble(Double::doubleValue).toArray();
    }

    private record Step(TestKind test, Optional<String> at) {}

    Technician.Work work(Technician technician, Simulated.Truth truth) {
        double[] log = odds.clone();
        DoneTest first = new DoneTest(TestKind.HIGH_LOW_AT_CONNECTOR, Optional.empty(), technician.first, Optional.empty(), Optional.empty(),
                Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
        learn(log, first, truth);
        if (technician.codes.isPresent()) {
            for (int i = 0; i < log.length; i++) {
                Simulated.Truth world = worlds.get(i).truth;
                log[i] += log[i] > -60 ? world.talk().logCodes(truth.talk(), world.kind(), world.part()) : 0;
            }
        }
        List<Step> left = steps(truth.truth());
        List<DoneTest> done = new ArrayList<>();
        double minutes = 0;
        while (!technician.isolates(done) && done.size() < Technician.MOST_TESTS) {
            Optional<Step> next = next(log, left);
            if (next.isEmpty()) {
                break;
            }
            left.remove(next.get());
            done.add(technician.make(next.get().test, next.get().at));
            learn(log, done.getLast(), truth);
            minutes += next.get().test.minutes();
        }
        return technician.work(minutes, done);
    }

    private static List<Step> steps(Circuit circuit) {
        List<Step> steps = new ArrayList<>();
        for (TestKind test : List.of(TestKind.ROLL_CALL, TestKind.HIGH_GROUND_AT_CONNECTOR, TestKind.LOW_GROUND_AT_CONNECTOR,
                TestKind.HIGH_SUPPLY_AT_CONNECTOR, TestKind.LOW_SUPPLY_AT_CONNECTOR, TestKind.RESTING_VOLTAGES, TestKind.LINE_END_TO_END,
                TestKind.SPLIT_TRUNK,
                TestKind.WIGGLE)) {
            steps.add(new Step(test, Optional.empty()));
        }
        circuit.terminators().orElseThrow().stream().filter(one -> one.inside().isEmpty())
                .forEach(one -> steps.add(new Step(TestKind.TERMINATOR_OUT, Optional.of(one.name()))));
        for (Circuit.Node node : circuit.nodes().orElseThrow()) {
            for (TestKind test : List.of(TestKind.HIGH_LOW_AT_MODULE, TestKind.MODULE_PINS, TestKind.UNPLUG_MODULE, TestKind.SUPPLY_DROP)) {
                steps.add(new Step(test, Optional.of(node.module())));
            }
        }
        return steps;
    }

    private static double[] weights(double[] log) {
        double most = java.util.Arrays.stream(log).max().orElseThrow();
        double[] weights = java.util.Arrays.stream(log).map(one -> one > most - 14 ? Math.exp(one - most) : 0).toArray();
        double sum = java.util.Arrays.stream(weights).sum();
        return java.util.Arrays.stream(weights).map(one -> one / sum).toArray();
    }

    private Optional<Step> next(double[] log, List<Step> left) {
        double[] weights = weights(log);
        Step best = left.getFirst();
        double most = 0;
        for (Step step : left) {
            double rate = bits(step, weights) / step.test.minutes();
            if (rate > most) {
                most = rate;
                best = step;
            }
        }
        return most * 10 > 0.005 ? Optional.of(best) : Optional.empty();
    }

    private double bits(Step step, double[] weights) {
        Map<String, Map<String, Double>> joint = new HashMap<>();
        Map<String, Double> outcomes = new HashMap<>();
        for (int i = 0; i < weights.length; i++) {
            if (weights[i] > 0) {
                String fault = worlds.get(i).truth.key();
                SimulatedTest shown = SimulatedTest.of(worlds.get(i), step.test, step.at);
                String numbers = step.test == TestKind.ROLL_CALL ? worlds.get(i).truth.talk().rollCall().silent().toString() : bins(shown);
                double yes = Math.max(shown.found(), 0);
                add(joint, outcomes, fault, numbers + "y", weights[i] * yes);
                add(joint, outcomes, fault, numbers + "n", weights[i] * (1 - yes));
            }
        }
        double bits = 0;
        for (Map<String, Double> byOutcome : joint.values()) {
            double of = byOutcome.values().stream().mapToDouble(Double::doubleValue).sum();
            for (Map.Entry<String, Double> both : byOutcome.entrySet()) {
                bits += both.getValue() * Math.log(both.getValue() / of / outcomes.getOrDefault(both.getKey(), 1.0));
            }
        }
        return bits / Math.log(2);
    }

    private static void add(Map<String, Map<String, Double>> joint, Map<String, Double> outcomes, String fault, String outcome, double weight) {
        if (weight > 0) {
            joint.computeIfAbsent(fault, _ -> new HashMap<>()).merge(outcome, weight, Double::sum);
            outcomes.merge(outcome, weight, Double::sum);
        }
    }

    private static String bins(SimulatedTest shown) {
        StringBuilder bins = new StringBuilder();
        for (double ohm : shown.ohms()) {
            boolean volt = shown.test() == TestKind.RESTING_VOLTAGES;
            bins.append(volt ? Math.round(ohm / 0.45) : Predicted.isOpen(ohm) ? -1 : (long) (Math.log1p(ohm * 0.01 / 0.3) / 0.01 / BIN_SD))
                    .append(',');
        }
        return bins.toString();
    }

    private void learn(double[] log, DoneTest done, Simulated.Truth truth) {
        List<Reading> shown = SimulatedTest.numbers(done);
        for (int i = 0; i < log.length; i++) {
            if (log[i] > -60) {
                SimulatedTest expected = SimulatedTest.of(worlds.get(i), done.test(), done.at());
                for (int k = 0; k < shown.size(); k++) {
                    log[i] += logLikelihood(shown.get(k), expected.ohms()[k]);
                }
                log[i] += logVolt(done.readings().highVoltage(), expected, 0) + logVolt(done.readings().lowVoltage(), expected, 1);
                boolean sign = done.found().isPresent();
                double chance = Math.clamp(expected.found(), 0.001, 0.999);
                log[i] += sign ? Math.log(done.found().get() ? chance : 1 - chance) : 0;
                log[i] += done.rollCall().isPresent() ? worlds.get(i).truth.talk().logRoll(truth.talk()) : 0;
            }
        }
    }

    /** Frames part the lines by up to a quarter of a volt. */
    private static double logVolt(Optional<Quantity> shown, SimulatedTest expected, int line) {
        if (shown.isEmpty()) {
            return 0;
        }
        double off = Double.isNaN(expected.ohms()[line]) ? 30 : (shown.get().si() - expected.ohms()[line] - (line == 0 ? 0.12 : -0.12)) / 0.12;
        return Math.max(-30, -off * off / 2);
    }

    /** A kernel three times as wide as the counts, so that few worlds stand for all. */
    private static double logLikelihood(Reading reading, double ohm) {
        return switch (reading) {
            case OverRange _ -> Predicted.isOpen(ohm) ? 0 : -30;
            case Quantity shown -> {
                double sd = Math.hypot(NOISE_SHARE * ohm, 3 * Simulated.count(ohm));
                double off = (shown.si() - ohm) / sd;
                yield Predicted.isOpen(ohm) ? -30 : Math.max(-30, -off * off / 2 - Math.log(sd));
            }
        };
    }
}
