package comebackledger.bus;

import comebackledger.measure.OverRange;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;

/**
 * Monte-Carlo Bayes that knows the simulator: networks drawn from it, each weighed by how well it gives the readings, the roll call and the
 * codes. Causes are drawn alike often and weighed by their odds. The kernel is as wide as the meter is, so the oracle is a little blunter than
 * perfect.
 */
final class Oracle {
    private static final double NOISE_SHARE = 0.0046; // 0.8 % / √3
    private static final double VOLT_SD = 0.06; // digits, and the spacing of the frames' share among the worlds

    private static final double LEAST_WORLDS = 15;

    private record World(Simulated.Truth truth, double logOdds, double[] ohms, OptionalDouble highVolt, OptionalDouble lowVolt, double frames) {}

    private final List<World> worlds = new ArrayList<>();

    Oracle(SplittableRandom random, Circuit told, int perCause) {
        for (Simulated.Cause cause : Simulated.Cause.ALL) {
            for (int i = 0; i < perCause; i++) {
                Simulated.Truth truth = Simulated.of(random, told, cause);
                Predicted predicted = BusModel.readings(truth.truth(), truth.faults(),
                        new BusModel.Meter(true, truth.volts(), Simulated.LEAD_OHM, Optional.empty()));
                worlds.add(new World(truth, Math.log(cause.odds() / perCause), new double[]{predicted.highLowOhm(), predicted.highGroundOhm(),
                        predicted.lowGroundOhm(), predicted.highSupplyOhm(), predicted.lowSupplyOhm()}, predicted.highVolt(), predicted.lowVolt(),
                        truth.talk().dead() ? 0 : random.nextDouble(0, 0.25)));
            }
        }
    }

    /** The probability of each fault and place; empty where too few of its worlds read alike to tell. */
    Map<String, Double> judge(BusReadings readings, Simulated.Truth truth, Simulated.Plan plan) {
        List<Optional<Reading>> read = List.of(readings.highLow(), readings.highGround(), readings.lowGround(), readings.highSupply(),
                readings.lowSupply());
        Map<String, Double> found = new LinkedHashMap<>();
        double sum = 0;
        double squares = 0;
        for (World world : worlds) {
            if (world.truth.talk().modules().size() != truth.talk().modules().size()) {
                continue; // who was called tells how many there are
            }
            double log = world.logOdds;
            for (int i = 0; i < read.size() && log > -60; i++) {
                log += read.get(i).isPresent() ? logLikelihood(read.get(i).get(), world.ohms[i]) : 0;
            }
            log += logVolt(readings.highVoltage(), world.highVolt, world.frames) + logVolt(readings.lowVoltage(), world.lowVolt, -world.frames);
            log += readings.supplyVoltage().isPresent() && (world.truth.kind() == FaultKind.SUPPLY_LOW) != (truth.kind() == FaultKind.SUPPLY_LOW)
                    ? -90
                    : 0;
            log += plan.rollCall() && log > -60 ? world.truth.talk().logRoll(truth.talk()) : 0;
            log += plan.codes() && log > -60 ? world.truth.talk().logCodes(truth.talk(), world.truth.kind(), world.truth.part()) : 0;
            if (log > -60) {
                found.merge(world.truth.key(), Math.exp(log), Double::sum);
                sum += Math.exp(log);
                squares += Math.exp(2 * log);
            }
        }
        if (sum * sum < LEAST_WORLDS * squares || sum == 0) {
            return Map.of();
        }
        double all = sum;
        found.replaceAll((_, weight) -> weight / all);
        return found;
    }

    private static double logVolt(Optional<Quantity> shown, OptionalDouble volt, double frames) {
        if (shown.isEmpty()) {
            return 0;
        }
        double off = (shown.get().si() - volt.orElse(-100) - frames) / VOLT_SD;
        return Math.abs(off) > 5 ? -90 : -off * off / 2;
    }

    private static double logLikelihood(Reading reading, double ohm) {
        return switch (reading) {
            case OverRange _ -> Predicted.isOpen(ohm) ? 0 : -90;
            case Quantity shown -> {
                double sd = Math.hypot(NOISE_SHARE * ohm, 2 * Simulated.count(ohm) / Math.sqrt(3));
                double off = (shown.si() - ohm) / sd;
                yield Predicted.isOpen(ohm) || Math.abs(off) > 5 ? -90 : -off * off / 2 - Math.log(sd);
            }
        };
    }
}
