package comebackledger.bus;

import comebackledger.measure.Reading;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

/** Someone at the vehicle who makes one test after another, on a simulated network with a known fault, until the fault is isolated. */
final class Technician {
    static final double ISOLATED = 0.9;
    static final int MOST_TESTS = 12;

    private final SplittableRandom random;
    private final Simulated.Truth truth;
    private final SimulatedTest.Network network;
    private final double gain;
    final BusReadings first;
    final Optional<List<CodeSign>> codes;

    Technician(SplittableRandom random, Simulated.Truth truth) {
        this.random = random;
        this.truth = truth;
        this.network = new SimulatedTest.Network(truth);
        this.gain = 1 + random.nextDouble(-Simulated.GAIN, Simulated.GAIN);
        Optional<Reading> highLow = make(TestKind.HIGH_LOW_AT_CONNECTOR, Optional.empty()).readings().highLow();
        this.first = SimulatedTest.readings(highLow, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
        this.codes = random.nextBoolean() ? Optional.of(truth.talk().codes()) : Optional.empty();
    }

    /** @param right the isolated fault is the true one */
    record Work(double minutes, boolean isolated, boolean right) {}

    /** Until one suspect holds 0.9, the next test always the first advised. */
    Work asAdvised() {
        List<DoneTest> done = new ArrayList<>();
        double minutes = 0;
        BusVerdict verdict = judge(done);
        while (!isolated(verdict) && !verdict.nextTests().isEmpty() && done.size() < MOST_TESTS) {
            BusVerdict.NextTest next = verdict.nextTests().getFirst();
            done.add(make(next.test(), next.at()));
            minutes += next.minutes();
            verdict = judge(done);
        }
        return work(minutes, done);
    }

    /** The same by a fixed order, as a wall chart has it: readings, roll call, terminators, wire, then module by module. */
    Work byTheBook() {
        List<DoneTest> done = new ArrayList<>();
        double minutes = 0;
        BusVerdict verdict = judge(done);
        for (BusVerdict.NextTest next : book()) {
            if (isolated(verdict) || done.size() >= MOST_TESTS) {
                break;
            }
            done.add(make(next.test(), next.at()));
            minutes += next.minutes();
            verdict = judge(done);
        }
        return work(minutes, done);
    }

    boolean isolates(List<DoneTest> done) {
        return isolated(judge(done));
    }

    Work work(double minutes, List<DoneTest> done) {
        BusVerdict verdict = judge(done);
        var ours = BusSimulationTest.ours(verdict, truth);
        return new Work(minutes, isolated(verdict), BusSimulationTest.first(ours).equals(truth.key()));
    }

    private List<BusVerdict.NextTest> book() {
        List<BusVerdict.NextTest> book = new ArrayList<>();
        for (TestKind test : List.of(TestKind.HIGH_GROUND_AT_CONNECTOR, TestKind.LOW_GROUND_AT_CONNECTOR, TestKind.HIGH_SUPPLY_AT_CONNECTOR,
                TestKind.LOW_SUPPLY_AT_CONNECTOR, TestKind.ROLL_CALL)) {
            book.add(step(test, Optional.empty()));
        }
        truth.truth().terminators().orElseThrow().stream().filter(one -> one.inside().isEmpty())
                .forEach(one -> book.add(step(TestKind.TERMINATOR_OUT, Optional.of(one.name()))));
        book.add(step(TestKind.LINE_END_TO_END, Optional.of("trunk")));
        book.add(step(TestKind.SPLIT_TRUNK, Optional.of("trunk")));
        for (Circuit.Node node : truth.truth().nodes().orElseThrow()) {
            book.add(step(TestKind.SUPPLY_DROP, Optional.of(node.module())));
            book.add(step(TestKind.UNPLUG_MODULE, Optional.of(node.module())));
        }
        return book;
    }

    private static BusVerdict.NextTest step(TestKind test, Optional<String> at) {
        return BusVerdict.NextTest.of(test, at, 0, CheckPolicy.DEFAULT);
    }

    private BusVerdict judge(List<DoneTest> done) {
        return BusCheck.judge(truth.told(), first, new Evidence(Optional.empty(), codes, done, List.of()), CheckPolicy.DEFAULT);
    }

    private static boolean isolated(BusVerdict verdict) {
        return verdict.suspects().getFirst().probability() >= ISOLATED;
    }

    DoneTest make(TestKind test, Optional<String> at) {
        return SimulatedTest.of(network, test, at).noted(random, gain, truth.talk());
    }
}
