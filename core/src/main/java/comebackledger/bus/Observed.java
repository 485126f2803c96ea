package comebackledger.bus;

import comebackledger.measure.OverRange;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Every number that was read, in the check itself and in the tests made since.
 *
 * @param shown without end where the meter was beyond its range
 * @param ownSd the part of its error that no other reading shares, same unit
 */
record Observed(Probe probe, double shown, double ownSd) {
    /** Within two counts, rectangular. */
    private static final double COUNTS = 2 / Math.sqrt(3);
    /** A meter's lowest range in ohm; each tenfold range has tenfold counts (common practice, no source). */
    private static final double RANGE_OHM = 600;
    /** Contact and model, ohm and share (common practice, no source). */
    private static final double CONTACT_OHM = 0.02;
    private static final double VOLT_SD = 0.05;
    private static final double BROKEN_LINE_OHM = 200;

    boolean isOpen() {
        return Predicted.isOpen(shown);
    }

    static double ownSd(Probe probe, double shown, BusReadings.Meter meter) {
        if (probe.isVoltage()) {
            return VOLT_SD;
        }
        double count = meter.digitOhm() * (shown < RANGE_OHM ? 1 : Math.pow(10, 1 + Math.floor(Math.log10(shown / RANGE_OHM))));
        return Math.hypot(COUNTS * count, CONTACT_OHM);
    }

    static List<Observed> of(Layout layout, BusReadings readings, List<DoneTest> done, BusReadings.Meter meter) {
        Gather gather = new Gather(layout, meter);
        gather.readings(readings, readings.atModule().map(layout::node).orElse(Tap.NONE), Probe.Where.CONNECTOR);
        done.forEach(gather::done);
        return List.copyOf(gather.found);
    }

    static double ohm(Reading reading) {
        return switch (reading) {
            case Quantity quantity -> quantity.si();
            case OverRange _ -> Mesh.OPEN;
        };
    }

    /** A broken line may still be read through the terminators and the other line: two of 120 ohm. */
    private static double lineOhm(Reading reading) {
        double ohm = ohm(reading);
        return ohm > BROKEN_LINE_OHM ? Mesh.OPEN : ohm;
    }

    private static final class Gather {
        private final Layout layout;
        private final BusReadings.Meter meter;
        private final List<Observed> found = new ArrayList<>();

        Gather(Layout layout, BusReadings.Meter meter) {
            this.layout = layout;
            this.meter = meter;
        }

        void readings(BusReadings readings, int module, Probe.Where otherwise) {
            Probe.Where where = otherwise == Probe.Where.CONNECTOR && module != Tap.NONE ? Probe.Where.MODULE : otherwise;
            resistance(readings.highLow(), Probe.Measure.HIGH_LOW, where, module);
            resistance(readings.highGround(), Probe.Measure.HIGH_GROUND, where, module);
            resistance(readings.lowGround(), Probe.Measure.LOW_GROUND, where, module);
            resistance(readings.highSupply(), Probe.Measure.HIGH_SUPPLY, where, module);
            resistance(readings.lowSupply(), Probe.Measure.LOW_SUPPLY, where, module);
            readings.highVoltage().ifPresent(volt -> add(new Probe(Probe.Measure.HIGH_VOLT, where, module), volt.si()));
            readings.lowVoltage().ifPresent(volt -> add(new Probe(Probe.Measure.LOW_VOLT, where, module), volt.si()));
        }

        void resistance(Optional<Reading> reading, Probe.Measure measure, Probe.Where where, int part) {
            reading.ifPresent(shown -> add(new Probe(measure, where, part), ohm(shown)));
        }

        private void add(Probe probe, double shown) {
            found.add(new Observed(probe, shown, ownSd(probe, shown, meter)));
        }

        void done(DoneTest test) {
            int module = test.at().map(layout::node).orElse(Tap.NONE);
            int terminator = test.at().map(layout::terminator).orElse(Tap.NONE);
            switch (test.test()) {
                case HIGH_LOW_AT_MODULE -> {
                    if (module != Tap.NONE) {
                        readings(test.readings(), module, Probe.Where.MODULE);
                    }
                }
                case UNPLUG_MODULE -> {
                    if (module != Tap.NONE) {
                        readings(test.readings(), module, Probe.Where.WITHOUT_MODULE);
                    }
                }
                case MODULE_PINS -> {
                    if (module != Tap.NONE) {
                        resistance(test.part().or(() -> test.readings().highLow()), Probe.Measure.HIGH_LOW, Probe.Where.PINS, module);
                    }
                }
                case TERMINATOR_OUT -> {
                    if (terminator != Tap.NONE) {
                        resistance(test.part(), Probe.Measure.HIGH_LOW, Probe.Where.TERMINATOR, terminator);
                        resistance(test.readings().highLow(), Probe.Measure.HIGH_LOW, Probe.Where.WITHOUT_TERMINATOR, terminator);
                    }
                }
                case SPLIT_TRUNK -> {
                    resistance(test.towardA(), Probe.Measure.HIGH_LOW, Probe.Where.TOWARD_A, module);
                    resistance(test.towardB(), Probe.Measure.HIGH_LOW, Probe.Where.TOWARD_B, module);
                }
                case LINE_END_TO_END -> {
                    test.highLine().ifPresent(shown -> add(new Probe(Probe.Measure.HIGH_LINE, Probe.Where.CONNECTOR, Tap.NONE), lineOhm(shown)));
                    test.lowLine().ifPresent(shown -> add(new Probe(Probe.Measure.LOW_LINE, Probe.Where.CONNECTOR, Tap.NONE), lineOhm(shown)));
                }
                case REPEAT_POWER_OFF, ROLL_CALL, HIGH_LOW_AT_CONNECTOR, HIGH_GROUND_AT_CONNECTOR, LOW_GROUND_AT_CONNECTOR, HIGH_SUPPLY_AT_CONNECTOR,
                        LOW_SUPPLY_AT_CONNECTOR, RESTING_VOLTAGES, WIGGLE, SUPPLY_DROP ->
                    readings(
                            test.readings(), Tap.NONE, Probe.Where.CONNECTOR);
            }
        }
    }
}
