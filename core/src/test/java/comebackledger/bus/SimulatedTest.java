package comebackledger.bus;

import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.measure.UnitOfMeasure;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;

/**
 * What one test of the closed list shows on one simulated network, before the meter's noise.
 *
 * @param ohms what a meter would read, leads included, in the order of the test
 * @param found the chance that what is looked for is found; below 0: the test looks for nothing
 */
record SimulatedTest(TestKind test, Optional<String> at, double[] ohms, double found) {
    /** A joint that is moved shows itself so often. */
    private static final double WIGGLED = 0.6;

    static SimulatedTest of(Network network, TestKind test, Optional<String> at) {
        int module = at.map(network.trunk.layout::node).orElse(Tap.NONE);
        int terminator = at.map(network.trunk.layout::terminator).orElse(Tap.NONE);
        Probe.Measure highLow = Probe.Measure.HIGH_LOW;
        double[] ohms = switch (test) {
            case HIGH_LOW_AT_CONNECTOR, REPEAT_POWER_OFF -> network.read(Probe.at(highLow));
            case HIGH_GROUND_AT_CONNECTOR -> network.read(Probe.at(Probe.Measure.HIGH_GROUND));
            case LOW_GROUND_AT_CONNECTOR -> network.read(Probe.at(Probe.Measure.LOW_GROUND));
            case HIGH_SUPPLY_AT_CONNECTOR -> network.read(Probe.at(Probe.Measure.HIGH_SUPPLY));
            case LOW_SUPPLY_AT_CONNECTOR -> network.read(Probe.at(Probe.Measure.LOW_SUPPLY));
            case HIGH_LOW_AT_MODULE -> network.read(new Probe(highLow, Probe.Where.MODULE, module));
            case UNPLUG_MODULE -> network.read(new Probe(highLow, Probe.Where.WITHOUT_MODULE, module));
            case MODULE_PINS -> network.read(new Probe(highLow, Probe.Where.PINS, module));
            case TERMINATOR_OUT -> network.read(new Probe(highLow, Probe.Where.TERMINATOR, terminator),
                    new Probe(highLow, Probe.Where.WITHOUT_TERMINATOR, terminator));
            case SPLIT_TRUNK -> network.read(new Probe(highLow, Probe.Where.TOWARD_A, Tap.NONE), new Probe(highLow, Probe.Where.TOWARD_B, Tap.NONE));
            case LINE_END_TO_END -> network.read(new Probe(Probe.Measure.HIGH_LINE, Probe.Where.CONNECTOR, Tap.NONE),
                    new Probe(Probe.Measure.LOW_LINE, Probe.Where.CONNECTOR, Tap.NONE));
            case RESTING_VOLTAGES -> network.volts();
            case ROLL_CALL, WIGGLE, SUPPLY_DROP -> new double[0];
        };
        double found = switch (test) {
            case UNPLUG_MODULE -> network.is(FaultKind.MODULE_SHUNT, at) || network.is(FaultKind.MODULE_INTERNAL, at) ? 1 : 0;
            case SUPPLY_DROP -> network.is(FaultKind.MODULE_SUPPLY, at) ? 1 : 0;
            case WIGGLE -> network.moves() ? WIGGLED : 0;
            default -> -1;
        };
        return new SimulatedTest(test, at, ohms, found);
    }

    /** A network with its faults on it. */
    static final class Network {
        final Simulated.Truth truth;
        private final Trunk trunk;
        private final Trunk.Laid laid;

        Network(Simulated.Truth truth) {
            this.truth = truth;
            this.trunk = new Trunk(truth.truth(), Assumed.NOTHING, false, 0);
            this.laid = trunk.lay(truth.faults());
        }

        private double[] read(Probe... probes) {
            double[] ohms = new double[probes.length];
            for (int i = 0; i < ohms.length; i++) {
                ohms[i] = probes[i].of(trunk, laid) + Simulated.LEAD_OHM;
            }
            return ohms;
        }

        /** On a resting bus; the frames come with the noise. */
        private double[] volts() {
            Trunk powered = new Trunk(truth.truth(), Assumed.NOTHING, true, truth.volts());
            Mesh seen = powered.lay(truth.faults()).atConnector();
            return new double[]{seen.highVolt(), seen.lowVolt()};
        }

        private boolean is(FaultKind kind, Optional<String> at) {
            return truth.faults().stream().anyMatch(fault -> fault.kind() == kind && fault.part().equals(at));
        }

        private boolean moves() {
            return truth.faults().stream().anyMatch(fault -> switch (fault.kind()) {
                case TRUNK_SERIES_RESISTANCE, TRUNK_OPEN, MODULE_STUB, CONNECTOR_FAULT -> true;
                default -> false;
            });
        }
    }

    /** As a technician notes it down. @param gain the meter's, the same for a whole check */
    DoneTest noted(SplittableRandom random, double gain, SimulatedTalk talk) {
        Optional<Boolean> whether = found < 0 ? Optional.empty() : Optional.of(random.nextDouble() < found);
        Optional<RollCall> call = test == TestKind.ROLL_CALL ? Optional.of(talk.rollCall()) : Optional.empty();
        boolean volts = test == TestKind.RESTING_VOLTAGES;
        Optional<Reading> one = !volts && ohms.length > 0 ? Optional.of(Simulated.shown(random, ohms[0], gain)) : Optional.empty();
        Optional<Reading> two = !volts && ohms.length > 1 ? Optional.of(Simulated.shown(random, ohms[1], gain)) : Optional.empty();
        Optional<Reading> no = Optional.empty();
        BusReadings readings = switch (test) {
            case HIGH_LOW_AT_CONNECTOR, REPEAT_POWER_OFF, HIGH_LOW_AT_MODULE, UNPLUG_MODULE -> readings(one, no, no, no, no);
            case TERMINATOR_OUT -> readings(two, no, no, no, no);
            case HIGH_GROUND_AT_CONNECTOR -> readings(no, one, no, no, no);
            case LOW_GROUND_AT_CONNECTOR -> readings(no, no, one, no, no);
            case HIGH_SUPPLY_AT_CONNECTOR -> readings(no, no, no, one, no);
            case LOW_SUPPLY_AT_CONNECTOR -> readings(no, no, no, no, one);
            case RESTING_VOLTAGES -> voltages(random, talk);
            default -> BusReadings.NONE;
        };
        boolean part = test == TestKind.MODULE_PINS || test == TestKind.TERMINATOR_OUT;
        boolean split = test == TestKind.SPLIT_TRUNK;
        boolean line = test == TestKind.LINE_END_TO_END;
        return new DoneTest(test, at, readings, call, part ? one : no, split ? one : no, split ? two : no, line ? one : no, line ? two : no, whether);
    }

    private BusReadings voltages(SplittableRandom random, SimulatedTalk talk) {
        double frames = talk.dead() ? 0 : random.nextDouble(0, 0.25);
        Optional<Quantity> high = volt(random, ohms[0], frames);
        Optional<Quantity> low = volt(random, ohms[1], -frames);
        return new BusReadings(true, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), high,
                low, OptionalDouble.empty(), Optional.empty(), Optional.empty());
    }

    private static Optional<Quantity> volt(SplittableRandom random, double volt, double frames) {
        return Double.isNaN(volt)
                ? Optional.empty()
                : Optional.of(Quantity.of(Math.rint(100 * (volt + frames + 0.02 * random.nextGaussian())) / 100, UnitOfMeasure.VOLT));
    }

    static BusReadings readings(Optional<Reading> highLow, Optional<Reading> highGround, Optional<Reading> lowGround, Optional<Reading> highSupply,
            Optional<Reading> lowSupply) {
        return new BusReadings(false, highLow, highGround, lowGround, highSupply, lowSupply, Optional.empty(), Optional.empty(), Optional.empty(),
                OptionalDouble.empty(), Optional.empty(), Optional.empty());
    }

    /** The numbers of a noted test, in the order of {@link #ohms}. */
    static List<Reading> numbers(DoneTest done) {
        return java.util.stream.Stream.of(done.part(), done.towardA(), done.towardB(), done.highLine(), done.lowLine(), done.readings().highLow(),
                done.readings().highGround(), done.readings().lowGround(), done.readings().highSupply(), done.readings().lowSupply())
                .flatMap(Optional::stream).toList();
    }
}
