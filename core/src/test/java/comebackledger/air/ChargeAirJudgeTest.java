package comebackledger.air;

import static comebackledger.air.AirCase.exact;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.air.ChargeAirResult.Regime;
import comebackledger.air.ChargeAirResult.Verdict;
import comebackledger.air.LeakSimulator.Held;
import comebackledger.air.LeakSimulator.Hold;
import comebackledger.measure.Measured;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class ChargeAirJudgeTest {
    private static final long SEED = 14_300_603;
    private static final double PSI = 6894.757293168361;
    private static final double LITRE_PER_MINUTE = 1e-3 / 60;
    private static final Measured AMBIENT = new Measured(101_325, 500);
    private static final Measured KELVIN = new Measured(293.15, 2);
    private static final AirLimits LIMITS = new AirLimits(0.03, OptionalDouble.empty());
    private static final Optional<EngineAir> ENGINE = Optional.of(new EngineAir(12.8e-3, 1500, 0.92, 4));
    private static final AirSystem SYSTEM = new AirSystem(OptionalDouble.of(30 * PSI), OptionalDouble.of(20 * PSI), OptionalDouble.of(323.15),
            OptionalDouble.of(0.02), ENGINE);
    private static final AirSystem UNKNOWN = new AirSystem(OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty(),
            OptionalDouble.empty(), Optional.empty());

    private static AirTest.Flow flow(double litresPerMinute) {
        return new AirTest.Flow(new Measured(litresPerMinute * LITRE_PER_MINUTE, (0.025 * litresPerMinute + 0.2) * LITRE_PER_MINUTE),
                AirTest.Reference.FREE_AIR, Optional.empty());
    }

    private static Measured pressure(double psi) {
        return new Measured(psi * PSI, 0.01 * Math.abs(psi * PSI) + 500);
    }

    private static AirTest held(double psi, double litresPerMinute) {
        return new AirTest.HeldFlow(pressure(psi), flow(litresPerMinute), Optional.empty(), AMBIENT, KELVIN, 0.65);
    }

    private static AirTest held(double psi, double litresPerMinute, double background) {
        return new AirTest.HeldFlow(pressure(psi), flow(litresPerMinute),
                Optional.of(new AirTest.HeldBackground(flow(background), Optional.empty())), AMBIENT, KELVIN, 0.65);
    }

    private static AirTest.Timed timed(double startPsi, double endPsi, double seconds) {
        return new AirTest.Timed(pressure(startPsi), pressure(endPsi), new Measured(seconds, 0.3));
    }

    private static AirTest hold(AirTest.Timed hold, Optional<AirTest.Timed> background, Optional<Measured> endKelvin) {
        return new AirTest.HoldDown(new Measured(0.02, 0.001), hold, background, AMBIENT, KELVIN, endKelvin, 0.65);
    }

    private static AirTest hold(double startPsi, double endPsi) {
        return hold(timed(startPsi, endPsi, 15), Optional.empty(), Optional.empty());
    }

    private static ChargeAirResult judge(AirTest test) {
        return ChargeAirJudge.judge(test, SYSTEM, LIMITS);
    }

    // Verdicts.

    /** 3 % of this engine's air at 30 psi is a hole of 6.44 mm: AIR-I20 (1 %: 3.718 mm) times the root of 3. */
    @ParameterizedTest
    @CsvSource({"15, 450, within", "15, 560, outside", "5, 250, within", "5, 320, outside"})
    void verdict_goesByTheShareOfEngineAirAndNotByTheFlow(double psi, double litresPerMinute, String verdict) {
        ChargeAirResult result = judge(held(psi, litresPerMinute));

        assertEquals(verdict, result.verdict().word());
        assertEquals(3.71836 * Math.sqrt(3), result.orificeLimitMm().orElseThrow(), 0.02);
    }

    @Test
    void grounds_whenTheLimitLiesInsideTheInterval_saySo() {
        String near = judge(held(15, 500)).grounds().orElseThrow();
        String far = judge(held(15, 50)).grounds().orElseThrow();

        assertTrue(near.contains("a repeat may decide otherwise"), near);
        assertTrue(far.matches("The leak takes 0\\.\\d+ % of the engine's air at rated boost, and 3\\.00 % may be lost\\."), far);
    }

    @Test
    void verdict_withoutEngine_isUnjudgedUnlessAHoleIsLimited() {
        ChargeAirResult bare = ChargeAirJudge.judge(held(15, 22), UNKNOWN, LIMITS);
        ChargeAirResult small = ChargeAirJudge.judge(held(15, 22), UNKNOWN, new AirLimits(0.03, OptionalDouble.of(2)));
        ChargeAirResult large = ChargeAirJudge.judge(held(15, 22), UNKNOWN, new AirLimits(0.03, OptionalDouble.of(1)));

        assertEquals(Verdict.UNJUDGED, bare.verdict());
        assertTrue(bare.undefined().orElseThrow().contains("engine"));
        assertTrue(bare.orificeMm().isPresent(), "the size is told all the same");
        assertEquals(Verdict.WITHIN, small.verdict());
        assertEquals(Verdict.OUTSIDE, large.verdict());
    }

    @Test
    void smoke_isLookedAtAndNotMeasured() {
        ChargeAirResult seen = ChargeAirJudge.looked(true, Optional.of(2 * PSI), SYSTEM);
        ChargeAirResult none = ChargeAirJudge.looked(false, Optional.empty(), UNKNOWN);

        assertEquals(Verdict.OUTSIDE, seen.verdict());
        assertEquals(Verdict.WITHIN, none.verdict());
        assertTrue(seen.orificeMm().isEmpty());
        assertFalse(none.cautions().isEmpty());
    }

    // Bad input.

    static Stream<AirTest> impossible() {
        return Stream.of(held(0, 22), held(-3, 22), hold(15, 0), hold(15, -1), hold(15, 18), hold(0, 0), hold(-2, -3), held(15, 5, 10),
                held(15, 10, 12), hold(timed(15, 15, 30), Optional.of(timed(15, 10, 30)), Optional.empty()),
                hold(timed(15, 12, 30), Optional.of(timed(15, 17, 30)), Optional.empty()),
                hold(timed(15, 16, 30), Optional.empty(), Optional.of(new Measured(285, 0.5))));
    }

    @ParameterizedTest
    @MethodSource("impossible")
    void verdict_whenTheReadingsContradictThemselves_isInvalidAndSaysWhy(AirTest test) {
        ChargeAirResult result = judge(test);

        assertEquals(Verdict.INVALID, result.verdict());
        assertTrue(result.undefined().orElseThrow().endsWith("."));
        assertTrue(result.orificeMm().isEmpty());
        assertFalse(result.cautions().isEmpty());
    }

    /** A tight system on a set-up that leaks: what is left is within the meters, so it is no hole, with the uncertainty of both readings. */
    @Test
    void size_whenBelowNothingWithinItsUncertainty_isZero() {
        for (AirTest test : List.of(held(15, 10, 10.5), hold(20, 20.1),
                hold(timed(20, 19, 60), Optional.of(timed(20, 18.9, 60)), Optional.empty()))) {
            ChargeAirResult result = judge(test);

            assertEquals(0, result.orificeMm().orElseThrow().value());
            assertEquals(0, result.effectiveAreaMm2().orElseThrow().value());
            assertTrue(result.orificeMm().orElseThrow().standardUncertainty() > 0.1);
            assertEquals(Verdict.WITHIN, result.verdict());
        }
    }

    /** 95 % of the holes that such readings can come from are no larger than the upper limit of the area. */
    @Test
    void orifice_atNoHole_reachesAsFarAsItsArea() {
        ChargeAirResult result = judge(held(15, 10, 10.5));

        double upper = 1.96 * result.orificeMm().orElseThrow().standardUncertainty();
        assertEquals(1.96 * result.effectiveAreaMm2().orElseThrow().standardUncertainty(),
                OrificeFlow.effectiveAreaM2(upper / 1e3, 0.65) * 1e6, 1e-9);
    }

    @Test
    void rise_thatWarmingExplains_isJudged() {
        AirTest test = hold(timed(15, 16, 30), Optional.empty(), Optional.of(new Measured(313.15, 0.5)));

        assertTrue(judge(test).orificeMm().orElseThrow().value() > 0.3, judge(test).toString());
    }

    /** 4000 seeded tests of any numbers a shop could send: never an exception, never below nothing. */
    @Test
    void judge_whateverIsSent_answers() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int i = 0; i < 4000; i++) {
            AirTest test = anyTest(random);
            ChargeAirResult result = ChargeAirJudge.judge(test, random.nextBoolean() ? SYSTEM : UNKNOWN, LIMITS);

            String message = test + " -> " + result;
            assertTrue(result.orificeMm().map(Measured::value).orElse(0.0) >= 0, message);
            assertTrue(result.massFlowKgPerS().map(Measured::value).orElse(0.0) >= 0, message);
            assertEquals(result.verdict() == Verdict.INVALID, result.orificeMm().isEmpty(), message);
            assertEquals(result.verdict() == Verdict.INVALID || result.verdict() == Verdict.UNJUDGED, result.undefined().isPresent(), message);
        }
    }

    private static AirTest anyTest(SplittableRandom random) {
        double[] psi = random.doubles(4).map(u -> Math.rint(u * u * 400 - 5) / 10).toArray();
        double first = Math.pow(10, random.nextDouble(-2, 4));
        Optional<Measured> end = random.nextBoolean() ? Optional.of(new Measured(random.nextDouble(230, 400), 2)) : Optional.empty();
        if (random.nextBoolean()) {
            AirTest.Flow flow = new AirTest.Flow(flow(first).value(), AirTest.Reference.values()[random.nextInt(4)], Optional.empty());
            Optional<AirTest.HeldBackground> background = random.nextBoolean()
                    ? Optional.of(new AirTest.HeldBackground(flow(first * random.nextDouble(1.5)), Optional.of(pressure(psi[1]))))
                    : Optional.empty();
            return new AirTest.HeldFlow(pressure(psi[0]), flow, background, AMBIENT, KELVIN, random.nextDouble(0.1, 1));
        }
        AirTest.Timed timed = timed(psi[0], psi[1], first / 10);
        Optional<AirTest.Timed> background = random.nextBoolean() ? Optional.of(timed(psi[2], psi[3], first)) : Optional.empty();
        double volume = Math.pow(10, random.nextDouble(-4, 1));
        return new AirTest.HoldDown(new Measured(volume, 0.05 * volume), timed, background, AMBIENT, KELVIN, end, random.nextDouble(0.1, 1));
    }

    // Laws.

    /** The square-root law of the float meter (AIR-G10): warm air is thinner, so less of it shows as much. */
    @Test
    void floatMeter_inWarmAir_countsLess() {
        assertEquals(Math.sqrt(293.15 / 313.15), FreeAir.floatMeterFactor(FreeAir.REFERENCE_PA, 313.15), 1e-12);
    }

    /** A set-up that needs twice the time for the same fall is half of the whole, in area and in what flows. */
    @Test
    void holdDown_backgroundIsTakenOffTheAverageFlowToo() {
        ChargeAirResult whole = judge(hold(timed(20, 15, 30), Optional.empty(), Optional.empty()));
        ChargeAirResult half = judge(hold(timed(20, 15, 30), Optional.of(timed(20, 15, 60)), Optional.empty()));

        assertEquals(whole.effectiveAreaMm2().orElseThrow().value() / 2, half.effectiveAreaMm2().orElseThrow().value(), 1e-9);
        assertEquals(whole.massFlowKgPerS().orElseThrow().value() / 2, half.massFlowKgPerS().orElseThrow().value(), 1e-12);
    }

    @Test
    void size_ofOneLeak_isTheSameAtAnyTestPressure() {
        for (double diameterMm : new double[]{0.5, 1.8, 6}) {
            double area = OrificeFlow.effectiveAreaM2(diameterMm / 1e3, 0.65);
            for (double psi : new double[]{0.5, 2, 10, 13, 13.2, 20, 30}) {
                double flow = area * OrificeFlow.flux(101_325 + psi * PSI, 101_325, 293.15);
                AirTest test = new AirTest.HeldFlow(exact(psi * PSI), new AirTest.Flow(exact(flow), AirTest.Reference.MASS, Optional.empty()),
                        Optional.empty(), exact(101_325), exact(293.15), 0.65);

                assertEquals(diameterMm, judge(test).orificeMm().orElseThrow().value(), 1e-9);
                assertEquals(psi > 13.1224 ? Regime.CHOKED : Regime.SUBSONIC, judge(test).regime().orElseThrow(), "AIR-K01");
            }
        }
    }

    /** Of 1000 leaks the two methods differ by more than 1.96 of their joint uncertainty in 5 %; four binomial standard deviations are 2.8 %. */
    @Test
    void methods_agreeOnOneLeakWithinTheirUncertainty() {
        LeakSimulator simulator = new LeakSimulator(SEED);
        int agree = 0;
        for (int i = 0; i < 1000; i++) {
            double area = simulator.area(0.3, 3);
            Measured held = judge(simulator.test(new Held(15 * PSI), area)).effectiveAreaMm2().orElseThrow();
            Measured hold = judge(simulator.test(new Hold(0.02, 30 * PSI, 15).timedFor(area), area)).effectiveAreaMm2().orElseThrow();
            double joint = Math.hypot(held.standardUncertainty(), hold.standardUncertainty());
            agree += Math.abs(held.value() - hold.value()) <= 1.96 * joint ? 1 : 0;
        }

        assertEquals(0.95, agree / 1000.0, 0.028, "seed " + SEED);
    }

    @Test
    void flow_growsWithPressureAndAreaAndFallsWithTemperature() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int i = 0; i < 2000; i++) {
            double ambient = random.nextDouble(60e3, 105e3);
            double gauge = Math.pow(10, random.nextDouble(1, 5.5));
            double kelvin = random.nextDouble(230, 450);
            double area = Math.pow(10, random.nextDouble(-9, -4));
            double mass = OrificeFlow.massFlowKgPerS(area, new PressureDrop(ambient + gauge, ambient, kelvin));

            assertTrue(mass < OrificeFlow.massFlowKgPerS(area, new PressureDrop(ambient + 1.001 * gauge, ambient, kelvin)));
            assertTrue(mass < OrificeFlow.massFlowKgPerS(1.001 * area, new PressureDrop(ambient + gauge, ambient, kelvin)));
            assertTrue(mass > OrificeFlow.massFlowKgPerS(area, new PressureDrop(ambient + gauge, ambient, 1.001 * kelvin)));
        }
    }

    /** No step where choking begins: a millionth of pressure changes the flow by about a millionth. */
    @Test
    void flow_whereChokingBegins_hasNoStep() {
        double critical = 1e5 / OrificeFlow.CRITICAL_RATIO;

        double below = OrificeFlow.flux(critical * (1 - 1e-6), 1e5, 293.15);
        double above = OrificeFlow.flux(critical * (1 + 1e-6), 1e5, 293.15);

        assertEquals(2e-6, above / below - 1, 1e-7);
    }

    @Test
    void holdDown_largerFallShorterTimeOrLargerVolume_isALargerLeak() {
        double area = area(timed(20, 15, 30), 0.02);

        assertTrue(area(timed(20, 14, 30), 0.02) > area);
        assertTrue(area(timed(20, 15, 25), 0.02) > area);
        assertEquals(1.5 * area, area(timed(20, 15, 30), 0.03), 1e-9);
    }

    private static double area(AirTest.Timed hold, double volume) {
        return judge(new AirTest.HoldDown(exact(volume), hold, Optional.empty(), AMBIENT, KELVIN, Optional.empty(), 0.65)).effectiveAreaMm2()
                .orElseThrow().value();
    }

    /** The integral, undone by the fourth-order steps over 200 seeded decays. */
    @Test
    void decay_integralAndStepsAgree() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int i = 0; i < 200; i++) {
            double start = 101_325 + random.nextDouble(5e3, 3e5);
            double end = 101_325 + (start - 101_325) * random.nextDouble(0.05, 0.99);
            Decay.Hold hold = new Decay.Hold(start, end, random.nextDouble(5, 300), 293.15, 293.15);

            double area = Decay.effectiveAreaM2(hold, 0.02, 101_325);

            assertEquals(end, Decay.endPa(hold, 0.02, 101_325, area), 1e-4 * (end - 101_325), hold.toString());
        }
    }

    // Cautions.

    @Test
    void cautions_nameTheLimitTheSealsTheEnergyAndTheHoses() {
        String above = String.join("\n", judge(hold(25, 20)).cautions());
        String below = String.join("\n", judge(held(15, 22)).cautions());

        for (String word : List.of("limit", "seals", "energy", "fly off", "Engine off", "relieve", "maker", "wait until it stands still")) {
            assertTrue(above.contains(word), word);
        }
        assertTrue(above.startsWith("The test pressure of 172 kPa is above this build's limit of 138 kPa"), above);
        assertFalse(below.contains("above this build's limit"), below);
    }
}
