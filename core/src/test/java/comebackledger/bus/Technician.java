package comebackledger.bus;

import comebackledger.measure.Reading;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;

/** Someone at the vehicle who makes one test after another, on a simulated network with a known fault, until the fault is isolated. */
final class Technician {
    private static final double ISOLATED = 0.9;
    private static final int MOST_TESTS = 12;

    private final SplittableRandom random;
    private final Simulated.Truth truth;
    private final Trunk trunk;
    private final Trunk.Laid laid;
    private final double gain;
    private final BusReadings first;

    Technician(SplittableRandom random, Simulated.Truth truth) {
        this.random = random;
        this.truth = truth;
        this.trunk = new Trunk(truth.truth(), Assumed.NOTHING, false, 0);
        this.laid = trunk.lay(truth.faults());
        this.gain = 1 + random.nextDouble(-0.008, 0.008);
        Optional<Reading> highLow = Optional.of(Simulated.shown(random, ohm(Probe.at(Probe.Measure.HIGH_LOW)), gain));
        this.first = readings(highLow, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
    }

    private double ohm(Probe probe) {
        return probe.of(trunk, laid) + 0.2;
    }

    private static BusReadings readings(Optional<Reading> highLow, Optional<Reading> highGround, Optional<Reading> lowGround,
            Optional<Reading> highSupply, Optional<Reading> lowSupply) {
        return new BusReadings(false, highLow, highGround, lowGround, highSupply, lowSupply, Optional.empty(), Optional.empty(), Optional.empty(),
                OptionalDouble.empty(), Optional.empty(), Optional.empty());
    }

    /** Minutes until one suspect holds 0.9, the next test always the first advised. */
    double minutesAsAdvised() {
        List<DoneTest> done = new ArrayList<>();
        double minutes = 0;
        for (int i = 0; i < MOST_TESTS; i++) {
            BusVerdict verdict = judge(done);
            if (isolated(verdict) || verdict.nextTests().isEmpty()) {
                return minutes;
            }
            BusVerdict.NextTest next = verdict.nextTests().getFirst();
            done.add(make(next.test(), next.at()));
            minutes += next.minutes();
        }
        return minutes;
    }

    /** The same by a fixed order, as a wall chart has it: readings, roll call, terminators, wire, then module by module. */
    double minutesByTheBook() {
        List<BusVerdict.NextTest> book = book();
        List<DoneTest> done = new ArrayList<>();
        double minutes = 0;
        for (BusVerdict.NextTest next : book) {
            BusVerdict verdict = judge(done);
            if (isolated(verdict) || verdict.nextTests().isEmpty() || done.size() >= MOST_TESTS) {
                return minutes;
            }
            done.add(make(next.test(), next.at()));
            minutes += next.minutes();
        }
        return minutes;
    }

    private List<BusVerdict.NextTest> book() {
        List<BusVerdict.NextTest> book = new ArrayList<>();
        for (TestKind test : List.of(TestKind.HIGH_GROUND_AT_CONNECTOR, TestKind.LOW_GROUND_AT_CONNECTOR, TestKind.HIGH_SUPPLY_AT_CONNECTOR,
                TestKind.LOW_SUPPLY_AT_CONNECTOR, TestKind.ROLL_CALL)) {
            book.add(step(test, Optional.empty()));
        }
        truth.told().terminators().orElseThrow().stream().filter(one -> one.inside().isEmpty())
                .forEach(one -> book.add(step(TestKind.TERMINATOR_OUT, Optional.of(one.name()))));
        book.add(step(TestKind.LINE_END_TO_END, Optional.of("trunk")));
        book.add(step(TestKind.SPLIT_TRUNK, Optional.of("trunk")));
        for (Circuit.Node node : truth.told().nodes().orElseThrow()) {
            book.add(step(TestKind.SUPPLY_DROP, Optional.of(node.module())));
            book.add(step(TestKind.UNPLUG_MODULE, Optional.of(node.module())));
        }
        return book;
    }

    private static BusVerdict.NextTest step(TestKind test, Optional<String> at) {
        return new BusVerdict.NextTest(test, at, test.minutes(), 0, "", List.of());
    }

    private BusVerdict judge(List<DoneTest> done) {
        return BusCheck.judge(truth.told(), first, new Evidence(Optional.empty(), Optional.empty(), done, List.of()), CheckPolicy.DEFAULT);
    }

    private static boolean isolated(BusVerdict verdict) {
        return verdict.suspects().getFirst().probability() >= ISOLATED;
    }

    private Optional<Reading> shown(Probe probe) {
        double ohm = ohm(probe);
        return Optional.of(Simulated.shown(random, ohm, gain));
    }

    private DoneTest make(TestKind test, Optional<String> at) {
        Optional<Reading> no = Optional.empty();
        int module = at.map(trunk.layout::node).orElse(Tap.NONE);
        int terminator = at.map(trunk.layout::terminator).orElse(Tap.NONE);
        Probe.Measure highLow = Probe.Measure.HIGH_LOW;
        return switch (test) {
            case HIGH_GROUND_AT_CONNECTOR -> done(test, at, readings(no, shown(Probe.at(Probe.Measure.HIGH_GROUND)), no, no, no));
            case LOW_GROUND_AT_CONNECTOR -> done(test, at, readings(no, no, shown(Probe.at(Probe.Measure.LOW_GROUND)), no, no));
            case HIGH_SUPPLY_AT_CONNECTOR -> done(test, at, readings(no, no, no, shown(Probe.at(Probe.Measure.HIGH_SUPPLY)), no));
            case LOW_SUPPLY_AT_CONNECTOR -> done(test, at, readings(no, no, no, no, shown(Probe.at(Probe.Measure.LOW_SUPPLY))));
            case HIGH_LOW_AT_CONNECTOR, REPEAT_POWER_OFF -> done(test, at, readings(shown(Probe.at(highLow)), no, no, no, no));
            case HIGH_LOW_AT_MODULE -> done(test, at, readings(shown(new Probe(highLow, Probe.Where.MODULE, module)), no, no, no, no));
            case UNPLUG_MODULE -> new DoneTest(test, at, readings(shown(new Probe(highLow, Probe.Where.WITHOUT_MODULE, module)), no, no, no, no),
                    Optional.empty(), no, no, no, no, no, Optional.of(isAt(at, FaultKind.MODULE_SHUNT) || isAt(at, FaultKind.MODULE_INTERNAL)));
            case MODULE_PINS -> part(test, at, shown(new Probe(highLow, Probe.Where.PINS, module)), no, no, no, no);
            case TERMINATOR_OUT -> part(test, at, shown(new Probe(highLow, Probe.Where.TERMINATOR, terminator)), no, no, no, no);
            case SPLIT_TRUNK -> part(test, at, no, shown(new Probe(highLow, Probe.Where.TOWARD_A, Tap.NONE)),
                    shown(new Probe(highLow, Probe.Where.TOWARD_B, Tap.NONE)), no, no);
            case LINE_END_TO_END -> part(test, at, no, no, no, shown(new Probe(Probe.Measure.HIGH_LINE, Probe.Where.CONNECTOR, Tap.NONE)),
                    shown(new Probe(Probe.Measure.LOW_LINE, Probe.Where.CONNECTOR, Tap.NONE)));
            case ROLL_CALL ->
                new DoneTest(test, at, BusReadings.NONE, Optional.of(truth.talk().rollCall()), no,
                        no, no, no, no, Optional.empty());
            case SUPPLY_DROP -> found(test, at, isAt(at, FaultKind.MODULE_SUPPLY));
            case WIGGLE -> found(test, at, switch (truth.kind()) {
                case TRUNK_SERIES_RESISTANCE, TRUNK_OPEN, MODULE_STUB, CONNECTOR_FAULT -> random.nextInt(10) < 6;
                default -> false;
            });
            case RESTING_VOLTAGES -> done(test, at, BusReadings.NONE);
        };
    }

    private boolean isAt(Optional<String> at, FaultKind kind) {
        return truth.kind() == kind && truth.part().equals(at);
    }

    private static DoneTest done(TestKind test, Optional<String> at, BusReadings readings) {
        Optional<Reading> no = Optional.empty();
        return new DoneTest(test, at, readings, Optional.empty(), no, no, no, no, no, Optional.empty());
    }

    private static DoneTest found(TestKind test, Optional<String> at, boolean found) {
        Optional<Reading> no = Optional.empty();
        return new DoneTest(test, at, BusReadings.NONE, Optional.empty(), no, no, no, no, no, Optional.of(found));
    }

    private static DoneTest part(TestKind test, Optional<String> at, Optional<Reading> part, Optional<Reading> towardA, Optional<Reading> towardB,
            Optional<Reading> highLine, Optional<Reading> lowLine) {
        return new DoneTest(test, at, BusReadings.NONE, Optional.empty(), part, towardA, towardB, highLine, lowLine, Optional.empty());
    }

}
