package comebackledger.judge;

import comebackledger.air.AirLimits;
import comebackledger.air.AirSystem;
import comebackledger.air.AirTest;
import comebackledger.air.ChargeAirJudge;
import comebackledger.air.ChargeAirResult;
import comebackledger.air.EngineAir;
import comebackledger.air.FreeAir;
import comebackledger.measure.Kind;
import comebackledger.measure.Measured;
import comebackledger.measure.Quantity;
import comebackledger.measure.UnitOfMeasure;
import comebackledger.policy.InstrumentPolicy;
import comebackledger.policy.Policy;
import comebackledger.unit.Build;
import comebackledger.unit.ChargeAir;
import comebackledger.unit.Engine;
import comebackledger.unit.Unit;
import comebackledger.visit.AirBackground;
import comebackledger.visit.ChargeAirTest;
import comebackledger.visit.FlowReference;
import comebackledger.visit.Stage;
import comebackledger.visit.Visit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** The charge-air tests of a visit, judged against the build. */
public final class AirJudge {
    private static final double USUAL_KELVIN = FreeAir.REFERENCE_KELVIN;
    private static final double USUAL_EFFICIENCY = 0.9; // common practice, no source
    private static final int USUAL_STROKES = 4; // common practice, no source: fleet diesels

    private final List<JudgedTest> tests = new ArrayList<>();
    private final List<AirFact> facts = new ArrayList<>();
    private final List<Warning> warnings = new ArrayList<>();

    private AirJudge() {}

    static AirJudge of(Unit unit, Visit visit, Policy policy) {
        AirJudge judge = new AirJudge();
        if (visit.chargeAirTests().isEmpty()) {
            return judge;
        }
        AirSystem system = system(unit.build());
        boolean repaired = VisitJudge.repaired(visit);
        for (int i = 0; i < visit.chargeAirTests().size(); i++) {
            judge.test(visit.chargeAirTests().get(i), "/chargeAirTests/" + i, system, policy, repaired);
        }
        return judge;
    }

    List<JudgedTest> tests() {
        return tests;
    }

    /** Of several tests by one method in one stage the last that is valid decides. */
    List<AirFact> facts() {
        List<AirFact> deciding = new ArrayList<>();
        for (int i = 0; i < facts.size(); i++) {
            AirFact fact = facts.get(i);
            boolean superseded = facts.subList(i + 1, facts.size()).stream()
                    .anyMatch(later -> later.stage() == fact.stage() && later.method() == fact.method() && later.verdict() != Verdict.INVALID);
            if (!superseded) {
                deciding.add(fact);
            }
        }
        return List.copyOf(deciding);
    }

    List<Warning> warnings() {
        return warnings;
    }

    private void test(ChargeAirTest test, String pointer, AirSystem system, Policy policy, boolean repaired) {
        ChargeAirResult result = judge(test, system, policy);
        Verdict verdict = verdict(result);
        tests.add(new JudgedTest.Air(pointer, verdict, result));
        Stage stage = repaired ? test.stage() : Stage.AS_FOUND;
        double asComparable = comparable(test, policy.instruments());
        facts.add(new AirFact(pointer, stage, test.method(), verdict, test.leaksAt().orElse(List.of()),
                result.orificeMm().map(hole -> new Measured(hole.value() * asComparable, hole.standardUncertainty() * asComparable)),
                result.orificeLimitMm().isPresent()
                        ? OptionalDouble.of(result.orificeLimitMm().getAsDouble() * asComparable)
                        : OptionalDouble.empty(),
                result.atRatedBoost().flatMap(ChargeAirResult.AtRatedBoost::shareOfEngineAir).map(share -> OptionalDouble.of(share.value()))
                        .orElse(OptionalDouble.empty())));
        Optional<Quantity> highest = test.testPressure().or(test::startPressure);
        if (highest.isPresent() && system.maxTestPa().isPresent() && highest.get().si() > system.maxTestPa().getAsDouble()) {
            warnings.add(new Warning(pointer + (test.testPressure().isPresent() ? "/testPressure" : "/startPressure"),
                    "The test pressure is above the build's maxTestPressure. The test is judged; lower the regulator before the next one."));
        }
    }

    /**
     * By what a hole told at the test's own discharge coefficient is multiplied to be the hole at the fleet's: the effective area is the same, and it is the
     * coefficient times the diameter squared.
     */
    private static double comparable(ChargeAirTest test, InstrumentPolicy instruments) {
        return Math.sqrt(test.dischargeCoefficient().orElse(instruments.dischargeCoefficient()) / instruments.dischargeCoefficient());
    }

    private static Verdict verdict(ChargeAirResult result) {
        return switch (result.verdict()) {
            case WITHIN -> Verdict.WITHIN;
            case OUTSIDE -> Verdict.OUTSIDE;
            case INVALID -> Verdict.INVALID;
            case UNJUDGED -> Verdict.UNJUDGED;
        };
    }

    // From the wire's model to the physics; the calculation takes the same way.

    /** What the build tells of the charge air and the engine. */
    public static AirSystem system(Build build) {
        return system(build.chargeAir(), build.engine());
    }

    public static AirSystem system(Optional<ChargeAir> air, Optional<Engine> engine) {
        return new AirSystem(si(air.flatMap(ChargeAir::ratedBoost)), si(air.flatMap(ChargeAir::maxTestPressure)),
                si(air.flatMap(ChargeAir::chargeTemperature)),
                si(air.flatMap(ChargeAir::volume)), engine.flatMap(AirJudge::engineAir));
    }

    private static Optional<EngineAir> engineAir(Engine engine) {
        if (engine.displacement().isEmpty() || engine.ratedSpeedRpm().isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new EngineAir(engine.displacement().get().si(), engine.ratedSpeedRpm().getAsDouble(),
                engine.volumetricEfficiency().orElse(USUAL_EFFICIENCY), engine.strokes().orElse(USUAL_STROKES)));
    }

    private static OptionalDouble si(Optional<Quantity> quantity) {
        return quantity.isPresent() ? OptionalDouble.of(quantity.get().si()) : OptionalDouble.empty();
    }

    /** Judges one test as a visit or the calculation sends it. */
    public static ChargeAirResult judge(ChargeAirTest test, AirSystem build, Policy policy) {
        Inputs inputs = new Inputs(test, policy.instruments());
        AirLimits limits = new AirLimits(policy.chargeAir().maxLossShare(), policy.chargeAir().maxOrificeMm());
        AirSystem known = test.volume().isPresent() ? build.withVolumeM3(test.volume().get().si()) : build;
        return known(test, inputs, known, limits);
    }

    private static ChargeAirResult known(ChargeAirTest test, Inputs inputs, AirSystem system, AirLimits limits) {
        return switch (test.method()) {
            case SMOKE ->
                ChargeAirJudge.looked(test.leaksAt().filter(spots -> !spots.isEmpty()).isPresent(), test.testPressure().map(Quantity::si), system);
            case HELD_FLOW -> ChargeAirJudge.judge(inputs.heldFlow(), system, limits);
            case HOLD_DOWN -> inputs.volume(system).map(volume -> ChargeAirJudge.judge(inputs.holdDown(volume), system, limits))
                    .orElseGet(() -> ChargeAirJudge.unjudged(inputs.holdDown(new Measured(1, 0)), system,
                            "A hold-down needs the volume of the charge air: in the test, or in the build."));
        };
    }

    /** The readings of one test in SI, with the policy's uncertainty where the visit gives none. */
    private record Inputs(ChargeAirTest test, InstrumentPolicy instruments) {
        AirTest.HeldFlow heldFlow() {
            Measured testPa = pressure(test.testPressure().orElseThrow());
            Optional<AirTest.HeldBackground> background = test.background().filter(one -> one.flow().isPresent())
                    .map(one -> new AirTest.HeldBackground(flow(one.flow().orElseThrow()), one.testPressure().map(this::pressure)));
            return new AirTest.HeldFlow(testPa, flow(test.flow().orElseThrow()), background, ambient(), kelvin(test.airTemperature()), coefficient());
        }

        AirTest.HoldDown holdDown(Measured volume) {
            Optional<AirTest.Timed> background = test.background().flatMap(this::timed);
            Optional<Quantity> before = test.startTemperature().or(test::airTemperature);
            // A change needs both ends; one reading alone tells the temperature that it stayed at.
            Measured start = kelvin(before.or(test::endTemperature));
            Optional<Measured> end = before.isPresent() ? test.endTemperature().map(this::temperature) : Optional.empty();
            return new AirTest.HoldDown(volume,
                    timed(test.startPressure().orElseThrow(), test.endPressure().orElseThrow(), test.duration().orElseThrow()),
                    background, ambient(), start, end, coefficient());
        }

        Optional<Measured> volume(AirSystem system) {
            return test.volume().map(volume -> measured(volume, instruments.volumeShare() * volume.si()))
                    .or(() -> system.volumeM3().isPresent()
                            ? Optional.of(new Measured(system.volumeM3().getAsDouble(), instruments.volumeShare() * system.volumeM3().getAsDouble()))
                            : Optional.empty());
        }

        private Optional<AirTest.Timed> timed(AirBackground background) {
            return background.startPressure().isPresent() && background.endPressure().isPresent() && background.duration().isPresent()
                    ? Optional.of(timed(background.startPressure().get(), background.endPressure().get(), background.duration().get()))
                    : Optional.empty();
        }

        private AirTest.Timed timed(Quantity start, Quantity end, Quantity duration) {
            return new AirTest.Timed(pressure(start), pressure(end), measured(duration, instruments.timeS()));
        }

        private double coefficient() {
            return test.dischargeCoefficient().orElse(instruments.dischargeCoefficient());
        }

        private Measured pressure(Quantity quantity) {
            return measured(quantity, instruments.pressureShare() * Math.abs(quantity.si()) + instruments.pressurePa());
        }

        private Measured ambient() {
            double usual = instruments.ambientPa();
            return test.ambientPressure().map(quantity -> measured(quantity, usual))
                    .orElseGet(() -> new Measured(test.altitude().map(altitude -> FreeAir.atAltitudePa(altitude.si())).orElse(FreeAir.REFERENCE_PA),
                            usual));
        }

        private Measured kelvin(Optional<Quantity> quantity) {
            return quantity.map(this::temperature).orElseGet(() -> new Measured(USUAL_KELVIN, instruments.temperatureK()));
        }

        private Measured temperature(Quantity quantity) {
            return measured(quantity, instruments.temperatureK());
        }

        private AirTest.Flow flow(Quantity quantity) {
            AirTest.Reference reference = quantity.unit().kind() == Kind.MASS_FLOW
                    ? AirTest.Reference.MASS
                    : switch (test.flowReference().orElse(FlowReference.FREE_AIR)) {
                        case FREE_AIR -> AirTest.Reference.FREE_AIR;
                        case ANR -> AirTest.Reference.ANR;
                        case FLOAT_METER_UNDER_PRESSURE -> AirTest.Reference.FLOAT_METER_UNDER_PRESSURE;
                    };
            double constant = UnitOfMeasure.LITRE_PER_MINUTE.differenceToSi(instruments.flowLitresPerMinute());
            double usual = instruments.flowShare() * quantity.si()
                    + (reference == AirTest.Reference.MASS ? constant * FreeAir.FREE_AIR_KG_PER_M3 : constant);
            return new AirTest.Flow(measured(quantity, usual), reference, test.meterPressure().map(this::pressure));
        }
    }

    private static Measured measured(Quantity quantity, double usual) {
        return new Measured(quantity.si(), quantity.siStandardUncertainty().orElse(usual));
    }
}
