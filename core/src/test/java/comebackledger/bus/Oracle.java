package comebackledger.bus;

import comebackledger.measure.OverRange;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;

/**
 * Monte-Carlo Bayes that knows the simulator: networks drawn from it, each weighed by how well it gives the readings. Kinds are drawn alike
 * often and weighed by their odds. The kernel is as wide as the meter is, so the oracle is a little blunter than perfect.
 */
final class Oracle {
    private static final List<FaultKind> KINDS = List.of(FaultKind.NONE_FOUND, FaultKind.TERMINATOR_MISSING, FaultKind.TRUNK_OPEN,
            FaultKind.SHORT_TO_GROUND, FaultKind.TRUNK_SHORT_HIGH_LOW, FaultKind.EXTRA_TERMINATOR, FaultKind.SHORT_TO_SUPPLY,
            FaultKind.TRUNK_SERIES_RESISTANCE, FaultKind.CONNECTOR_FAULT, FaultKind.MODULE_STUB, FaultKind.MODULE_SUPPLY,
            FaultKind.TERMINATOR_DRIFTED, FaultKind.MODULE_SHUNT, FaultKind.MODULE_INTERNAL);
    private static final double NOISE_SHARE = 0.0046; // 0.8 % / √3
    private static final double NOISE_OHM = 0.115; // 2 counts / √3

    private record World(String key, double weight, double[] ohms, boolean[] silent) {}

    private final List<World> worlds = new ArrayList<>();

    Oracle(SplittableRandom random, Circuit told, int perKind) {
        for (FaultKind kind : KINDS) {
            for (int i = 0; i < perKind; i++) {
                Simulated.Truth truth = Simulated.of(random, told, kind);
                Predicted predicted = BusModel.readings(truth.truth(), truth.faults(), new BusModel.Meter(false, 0, 0.2, Optional.empty()));
                worlds.add(new World(key(truth), FaultOdds.DEFAULT.of(kind) / perKind, new double[]{predicted.highLowOhm(), predicted.highGroundOhm(),
                        predicted.lowGroundOhm(), predicted.highSupplyOhm(), predicted.lowSupplyOhm()}, truth.silent()));
            }
        }
    }

    static String key(Simulated.Truth truth) {
        return truth.kind().word() + truth.part().map(part -> " " + part).orElse("");
    }

    /** The probability of each fault and place. */
    Map<String, Double> judge(BusReadings readings, Simulated.Truth truth, Simulated.Plan plan) {
        List<Optional<Reading>> read = List.of(readings.highLow(), readings.highGround(), readings.lowGround(), readings.highSupply(),
                readings.lowSupply());
        Map<String, Double> found = new LinkedHashMap<>();
        double sum = 0;
        for (World world : worlds) {
            double weight = world.weight;
            for (int i = 0; i < read.size() && weight > 0; i++) {
                weight *= read.get(i).isPresent() ? likelihood(read.get(i).get(), world.ohms[i]) : 1;
            }
            for (int i = 0; plan.rollCall() && i < world.silent.length && weight > 0; i++) {
                weight *= world.silent[i] == truth.silent()[i] ? 1 : 0.005;
            }
            if (weight > 0) {
                found.merge(world.key, weight, Double::sum);
                sum += weight;
            }
        }
        double all = sum;
        found.replaceAll((_, weight) -> weight / all);
        return found;
    }

    private static double likelihood(Reading reading, double ohm) {
        return switch (reading) {
            case OverRange _ -> Predicted.isOpen(ohm) ? 1 : 0;
            case Quantity shown -> {
                double sd = Math.hypot(NOISE_SHARE * ohm, NOISE_OHM);
                double off = (shown.si() - ohm) / sd;
                yield Predicted.isOpen(ohm) || Math.abs(off) > 5 ? 0 : Math.exp(-off * off / 2) / sd;
            }
        };
    }
}
