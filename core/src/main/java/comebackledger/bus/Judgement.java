package comebackledger.bus;

import comebackledger.bus.BusVerdict.Verdict;
import comebackledger.measure.Reading;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The meter's verdict: each reading against what healthy parts can give. Roll calls and codes have no part in it.
 *
 * <ul>
 * <li>Between the lines: inside the expected range, both limits included.
 * <li>To ground or to the positive cable: no lower than the inputs of the build can pull it, each at 5 kohm from each line where the build
 * tells none (ISO 11898-2, from memory); and the two lines alike, since the terminators join them.
 * <li>Voltages: a resting or running bus averages 2.0 to 3.5 V on high and 1.5 to 3.0 V on low (ISO 11898-2 levels, from memory, averaged).
 * Both near 0 V is a sleeping bus unless everybody called stays silent (transceiver data sheets, standby bias): no verdict.
 * </ul>
 */
final class Judgement {
    private static final double LEAST_LINE_TO_GROUND_OHM = 5_000;
    private static final int MOST_NODES = 30;
    /** Inputs as told may be this far below (common practice, no source). */
    private static final double INPUT_MARGIN = 0.7;
    private static final double ASLEEP_VOLT = 0.2;

    private final Circuit circuit;
    private final BusReadings readings;
    private final Optional<RollCall> rollCall;
    private final BusVerdict.Expected expected;
    private final CheckPolicy policy;
    private final List<String> cautions = new ArrayList<>();
    private boolean outside;
    private boolean judged;

    Judgement(Circuit circuit, BusReadings readings, Optional<RollCall> rollCall, BusVerdict.Expected expected, CheckPolicy policy) {
        this.circuit = circuit;
        this.readings = readings;
        this.rollCall = rollCall;
        this.expected = expected;
        this.policy = policy;
        readings.highLow().ifPresent(this::highLow);
        rails();
        voltages();
    }

    Verdict verdict() {
        return outside ? Verdict.OUTSIDE : judged || rollCall.isPresent() ? Verdict.WITHIN : Verdict.INVALID;
    }

    List<String> cautions() {
        return List.copyOf(cautions);
    }

    private void judge(boolean holds, String otherwise) {
        judged = true;
        if (!holds) {
            outside = true;
            cautions.add(otherwise);
        }
    }

    private void highLow(Reading shown) {
        double ohm = Observed.ohm(shown);
        judge(ohm >= expected.low() - 1e-9 && ohm <= expected.high() + 1e-9,
                String.format(java.util.Locale.ROOT, "Between the lines: outside %.1f to %.1f ohm (%s).", expected.low(), expected.high(),
                        expected.source()));
    }

    private void rails() {
        double least = leastToGroundOhm();
        pair(readings.highGround(), readings.lowGround(), least, "ground");
        // Inputs reach the positive cable only through what lies between it and ground.
        double throughLoads = circuit.supplyToGroundOhm().isPresent() ? least : Mesh.OPEN_ABOVE_OHM;
        pair(readings.highSupply(), readings.lowSupply(), Math.min(throughLoads, least), "the positive cable");
    }

    private void pair(Optional<Reading> high, Optional<Reading> low, double least, String rail) {
        high.ifPresent(shown -> toRail(Observed.ohm(shown), least, "High to " + rail));
        low.ifPresent(shown -> toRail(Observed.ohm(shown), least, "Low to " + rail));
        if (high.isPresent() && low.isPresent()) {
            double one = Observed.ohm(high.get());
            double other = Observed.ohm(low.get());
            BusReadings.Meter meter = readings.meter().orElse(policy.meter());
            double noise = 2 * (Observed.ownSd(Probe.at(Probe.Measure.HIGH_GROUND), Math.min(one, other), meter)
                    + Observed.ownSd(Probe.at(Probe.Measure.LOW_GROUND), Math.max(one, Math.min(other, 1e7)), meter));
            boolean bothOpen = Predicted.isOpen(one) && Predicted.isOpen(other);
            boolean far = Math.min(one, other) > 1e5;
            judge(bothOpen || far || Math.abs(one - other) <= noise + 0.01 * Math.min(one, other) * 0.5 + 2,
                    "The two lines differ against " + rail + " although the terminators join them.");
        }
    }

    private void toRail(double ohm, double least, String what) {
        judge(ohm >= least,
                String.format(java.util.Locale.ROOT, "%s: below %.0f ohm, the least that the inputs of this build can give.", what, least));
    }

    /** Both pins of every module beside each other; the terminators join the lines. */
    private double leastToGroundOhm() {
        double siemens = 0;
        for (Circuit.Node node : circuit.nodes().orElse(List.of())) {
            siemens += node.lineToGroundOhm().isPresent() ? 2 / (node.lineToGroundOhm().getAsDouble() * INPUT_MARGIN) : 2 / LEAST_LINE_TO_GROUND_OHM;
        }
        return 1 / (circuit.nodes().map(List::isEmpty).orElse(true) ? 2 * MOST_NODES / LEAST_LINE_TO_GROUND_OHM : siemens);
    }

    private void voltages() {
        if (!readings.hasVoltage()) {
            return;
        }
        double high = readings.highVoltage().map(volt -> volt.si()).orElse(BusModel.BIAS_VOLT);
        double low = readings.lowVoltage().map(volt -> volt.si()).orElse(BusModel.BIAS_VOLT);
        boolean zero = readings.highVoltage().isPresent() && Math.abs(high) < ASLEEP_VOLT
                || readings.lowVoltage().isPresent() && Math.abs(low) < ASLEEP_VOLT;
        boolean asleep = zero && (readings.highVoltage().isEmpty() || high < ASLEEP_VOLT) && (readings.lowVoltage().isEmpty() || low < ASLEEP_VOLT);
        if (asleep && !rollCall.map(RollCall::isAllSilent).orElse(false)) {
            cautions.add(
                    "Both lines near 0 V: a sleeping bus reads so too. Wake the modules and measure again, or measure to ground with the power off.");
            return;
        }
        judge(high >= 2.0 && high <= 3.5 && low >= 1.5 && low <= 3.0 && high + low >= 4.0 && high + low <= 6.0,
                "Voltages: a resting or running bus averages about 2.5 V on both lines, high above low (ISO 11898-2, from memory).");
    }
}
