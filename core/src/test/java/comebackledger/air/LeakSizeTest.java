package comebackledger.air;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.air.LeakSimulator.Air;
import comebackledger.air.LeakSimulator.Held;
import comebackledger.air.LeakSimulator.Hold;
import comebackledger.measure.Measured;
import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleFunction;
import java.util.function.Function;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** How good the size of a leak and its interval are, over simulated leaks of known size (JCGM 101). */
class LeakSizeTest {
    private static final long SEED = 20_261_125;
    private static final double PSI = 6894.757293168361;
    private static final AirLimits LIMITS = new AirLimits(0.03, OptionalDouble.empty());
    private static final EngineAir ENGINE = new EngineAir(12.8e-3, 1500, 0.92, 4);
    private static final AirSystem SYSTEM = new AirSystem(OptionalDouble.of(30 * PSI), OptionalDouble.empty(), OptionalDouble.of(323.15),
            OptionalDouble.empty(), Optional.of(ENGINE));

    /** @param lowMm2, highMm2 the effective areas tried, log-uniform */
    record Scenario(String name, double lowMm2, double highMm2, int openings, Function<LeakSimulator, DoubleFunction<AirTest>> tests) {
        static Scenario held(String name, double low, double high, Held how) {
            return new Scenario(name, low, high, 1, simulator -> area -> simulator.test(how, area));
        }

        static Scenario hold(String name, double low, double high, Hold how) {
            return new Scenario(name, low, high, 1, simulator -> area -> simulator.test(how.timedFor(area), area));
        }

        Scenario withOpenings(int many) {
            return new Scenario(name, lowMm2, highMm2, many, tests);
        }

        @Override
        public String toString() {
            return name;
        }
    }

    static Stream<Scenario> scenarios() {
        return Stream.of(Scenario.held("held-flow choked", 0.3, 40, new Held(20 * PSI)),
                Scenario.held("held-flow subsonic", 0.5, 40, new Held(5 * PSI)),
                Scenario.held("held-flow low pressure", 1, 40, new Held(2 * PSI)),
                Scenario.held("held-flow five openings", 0.1, 4, new Held(15 * PSI)).withOpenings(5),
                Scenario.held("held-flow float meter", 0.5, 40,
                        new Held(15 * PSI, AirTest.Reference.FLOAT_METER_UNDER_PRESSURE, 0, Optional.empty(), Air.SEA_LEVEL)),
                Scenario.held("held-flow mass, mountain", 0.5, 40,
                        new Held(10 * PSI, AirTest.Reference.MASS, 0, Optional.empty(), Air.MOUNTAIN)),
                Scenario.held("held-flow background", 0.5, 20,
                        new Held(15 * PSI, AirTest.Reference.ANR, 0.4e-6, Optional.empty(), Air.SEA_LEVEL)),
                Scenario.held("held-flow background elsewhere", 0.5, 20,
                        new Held(5 * PSI, AirTest.Reference.FREE_AIR, 0.6e-6, Optional.of(15 * PSI), Air.SEA_LEVEL)),
                Scenario.hold("hold-down", 0.2, 3, new Hold(0.02, 30 * PSI, 15)),
                Scenario.hold("hold-down large drop", 0.2, 3, new Hold(0.02, 30 * PSI, 70)),
                Scenario.hold("hold-down large drop, low pressure", 0.2, 3, new Hold(0.02, 10 * PSI, 40)),
                Scenario.hold("hold-down small drop", 0.05, 2, new Hold(0.02, 30 * PSI, 7)),
                Scenario.hold("hold-down three openings", 0.1, 1, new Hold(0.02, 20 * PSI, 20)).withOpenings(3),
                Scenario.hold("hold-down background", 0.3, 3, new Hold(0.02, 25 * PSI, 20, 0, 0.05e-6, 60, Air.SEA_LEVEL)),
                Scenario.hold("hold-down cooling, mountain", 0.2, 2, new Hold(0.02, 25 * PSI, 20, -8, 0, 0, Air.MOUNTAIN)));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("scenarios")
    void size_coversTheTruthAndErrsAsLittleAsAnOracle(Scenario scenario) {
        check(scenario, scenario.name().contains("cooling") ? 800 : 2000);
    }

    @Tag("long")
    @ParameterizedTest(name = "{0}")
    @MethodSource("scenarios")
    void size_overManyLeaks(Scenario scenario) {
        check(scenario, 20_000);
    }

    /**
     * 93 to 97 % of the intervals hold the truth: four binomial standard deviations at 2000 leaks. An oracle knows how large leaks are made, and
     * shrinks our estimate to them (the posterior median): with the same readings nothing does better than that by more than its own second order.
     */
    private static void check(Scenario scenario, int leaks) {
        LeakSimulator simulator = new LeakSimulator(SEED + scenario.name().hashCode());
        DoubleFunction<AirTest> tests = scenario.tests().apply(simulator);
        int area = 0;
        int orifice = 0;
        int share = 0;
        double[] error = new double[leaks];
        double[] oracleError = new double[leaks];
        for (int i = 0; i < leaks; i++) {
            double truth = 0;
            for (int opening = 0; opening < scenario.openings(); opening++) {
                truth += simulator.area(scenario.lowMm2(), scenario.highMm2());
            }
            ChargeAirResult result = ChargeAirJudge.judge(tests.apply(truth), SYSTEM, LIMITS);
            if (result.effectiveAreaMm2().isEmpty()) {
                error[i] = 1;
                oracleError[i] = 1;
                continue; // no size, so the truth is not covered
            }
            Measured sized = result.effectiveAreaMm2().get();
            area += covers(sized, truth * 1e6);
            orifice += covers(result.orificeMm().orElseThrow(), OrificeFlow.diameterM(truth, LeakSimulator.COEFFICIENT) * 1e3);
            double ambient = scenario.name().contains("mountain") ? Air.MOUNTAIN.ambientPa() : Air.SEA_LEVEL.ambientPa();
            double lost = truth * OrificeFlow.flux(ambient + 30 * PSI, ambient, 323.15) / ENGINE.massFlowKgPerS(ambient + 30 * PSI, 323.15);
            share += covers(result.atRatedBoost().orElseThrow().shareOfEngineAir().orElseThrow(), lost);
            error[i] = Math.abs(sized.value() * 1e-6 / truth - 1);
            oracleError[i] = Math.abs(oracle(sized, scenario) * 1e-6 / truth - 1);
        }
        String message = scenario.name() + ": area " + area + ", orifice " + orifice + ", share " + share + " of " + leaks + ", median error "
                + median(error) + ", oracle " + median(oracleError) + ", seed " + SEED;
        assertEquals(0.95, (double) area / leaks, 0.02, message);
        assertEquals(0.95, (double) orifice / leaks, 0.02, message);
        assertEquals(0.95, (double) share / leaks, 0.02, message);
        assertTrue(median(error) <= 1.1 * median(oracleError), message);
    }

    private static int covers(Measured estimate, double truth) {
        return Math.abs(estimate.value() - truth) <= 1.96 * estimate.standardUncertainty() ? 1 : 0;
    }

    /** The posterior median under the areas that the simulator makes; for several openings their sum's range counts, log-uniform. */
    private static double oracle(Measured sized, Scenario scenario) {
        int nodes = 400;
        double low = scenario.lowMm2() * scenario.openings();
        double ratio = scenario.highMm2() / scenario.lowMm2();
        double relative = sized.standardUncertainty() / sized.value();
        double[] sums = new double[nodes + 1];
        for (int i = 0; i < nodes; i++) {
            double area = low * Math.pow(ratio, (i + 0.5) / nodes);
            // The instruments err by shares and constants: the spread at this size, between the two.
            double spread = relative * area + (sized.standardUncertainty() - relative * area) / 2;
            double z = (sized.value() - area) / spread;
            sums[i + 1] = sums[i] + Math.exp(-z * z / 2) / spread;
        }
        int at = Arrays.binarySearch(sums, sums[nodes] / 2);
        int before = Math.max(0, (at < 0 ? -at - 1 : at) - 1);
        return low * Math.pow(ratio, (before + 0.5) / nodes);
    }

    private static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }
}
