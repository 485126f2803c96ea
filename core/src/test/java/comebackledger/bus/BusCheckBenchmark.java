package comebackledger.bus;

import java.util.List;
import java.util.SplittableRandom;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** One bus check of 25 nodes with suspects and next tests; run with org.openjdk.jmh.Main on the test class path. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.SampleTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 5, time = 2)
@Measurement(iterations = 5, time = 2)
public class BusCheckBenchmark {
    private static final int CASES = 64;

    private final List<Object[]> cases = IntStream.range(0, CASES).mapToObj(BusCheckBenchmark::testCase).toList();
    private int next;

    private static Object[] testCase(int number) {
        SplittableRandom random = new SplittableRandom(number);
        Simulated.Truth truth = Simulated.draw(random, SimulatedBuild.told(random, 25, SimulatedBuild.Known.values()[number % 2]));
        Simulated.Plan plan = Simulated.Plan.BENCH;
        return new Object[]{truth.told(), Simulated.read(random, truth, plan), Simulated.evidence(truth, plan)};
    }

    /** Suspects and next tests. */
    @Benchmark
    public BusVerdict judge() {
        Object[] one = cases.get(next++ % CASES);
        return BusCheck.judge((Circuit) one[0], (BusReadings) one[1], (Evidence) one[2], CheckPolicy.DEFAULT);
    }
}
