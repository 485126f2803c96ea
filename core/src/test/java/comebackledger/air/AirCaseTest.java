package comebackledger.air;

import static comebackledger.air.AirCase.exact;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.fail;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.measure.Measured;
import comebackledger.measure.UnitOfMeasure;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every published case, by its topic; a topic that nothing here checks fails. */
class AirCaseTest {
    private static final AirLimits LIMITS = new AirLimits(0.03, OptionalDouble.empty());
    private static final double MM2 = 1e-6;
    private static final double UNIVERSAL_GAS = 8.314472; // J/(mol K), as 40 CFR 1065 prints it

    static Stream<AirCase> cases() {
        return AirCase.all();
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("cases")
    void answersAsTheCase(AirCase one) {
        switch (one.topic()) {
            case "printed table of orifice discharge" -> handbook(one);
            case "critical pressure ratio" -> criticalRatio(one);
            case "choked flow function" -> one.check("massFlowRootRTOverAreaPressure",
                    OrificeFlow.fluxKgPerSM2(new PressureDrop(3e5, 1e5, 300)) * Math.sqrt(OrificeFlow.AIR_J_PER_KG_K * 300) / 3e5);
            case "sonic conductance of a hole" -> conductance(one);
            case "flow from sonic conductance and critical ratio" -> conductanceFlow(one);
            case "ellipse of ISO 6358 against isentropic flow, critical ratio 0.5283" -> ellipse(one);
            case "worked example of a government rule" -> governmentRule(one);
            case "worked example of an open government calculation library" -> governmentLibrary(one);
            case "hole to flow" -> holeToFlow(one);
            case "held flow to hole, and the loss at rated boost" -> heldFlow(one);
            case "holes side by side" -> sideBySide(one);
            case "background leak of the test set-up taken off" -> heldBackground(one);
            case "hold-down to hole, constant temperature" -> holdDown(one);
            case "where the pressure will be" -> whereThePressureWillBe(one);
            case "sealed volume that only changes temperature" -> sealed(one);
            case "hold-down with a temperature that drifts evenly" -> drifting(one);
            case "hold-down with the background leak of the test set-up taken off" -> holdBackground(one);
            case "fast fill from a 20 C line, then settled with the valve closed" -> fastFill(one);
            case "float meter marked for air at 0 psig and 20 C, used under pressure" -> floatMeter(one);
            case "engine air, and the share a leak takes" -> engineAir(one);
            case "hole that loses a given share of engine air" -> shareToHole(one);
            case "pressure of the standard atmosphere" -> one.check("ambientKPa", FreeAir.atAltitudePa(feet(one)) / 1e3);
            case "the same gauge pressure higher up, 2 mm hole at 0.65, 20 C" -> higherUp(one);
            case "small reference hole at low pressure" -> referenceHole(one);
            case "force on an end plug" -> one.check("newton", AirCautions.plugForceN(0.0254 * one.number("diameterInch"), one.psi("gaugePsi")));
            case "energy stored in the test volume" -> storedEnergy(one);
            case "uncertainty of a held-flow result, choked", "uncertainty of a held-flow result, subsonic" -> heldUncertainty(one);
            case "uncertainty of a hold-down, large drop", "uncertainty of a hold-down, drop near the gauge resolution" -> holdUncertainty(one);
            default -> fail("no check for the topic of " + one);
        }
    }

    // Flow through a hole.

    private static void handbook(AirCase one) {
        double ambient = UnitOfMeasure.PSI.toSi(one.number("ambientPsia"));
        String[] fraction = one.inputs().get("orificeInch").textValue().split("/", 2);
        double diameter = 0.0254 * Double.parseDouble(fraction[0]) / Double.parseDouble(fraction[1]);
        PressureDrop drop = new PressureDrop(ambient + one.psi("gaugePsi"), ambient, one.number("upstreamRankine") / 1.8);

        double mass = OrificeFlow.massFlowKgPerS(OrificeFlow.effectiveAreaM2(diameter, one.number("dischargeCoefficient")), drop);

        one.check("freeAirCubicFeetPerMinute", mass * 60 / 0.45359237 / one.number("freeAirPoundPerCubicFoot"));
    }

    private static void criticalRatio(AirCase one) {
        one.check("criticalRatio", OrificeFlow.CRITICAL_RATIO);
        double choking = FreeAir.REFERENCE_PA / OrificeFlow.CRITICAL_RATIO - FreeAir.REFERENCE_PA;
        one.check("chokedAboveGaugePsi", UnitOfMeasure.PSI.fromSi(choking));
        one.check("chokedAboveGaugeKPa", choking / 1e3);
    }

    private static void conductance(AirCase one) {
        double area = OrificeFlow.effectiveAreaM2(one.number("orificeMm") / 1e3, one.number("dischargeCoefficient"));

        one.check("sonicConductanceM3PerSPa", SonicConductance.ofArea(area));
        one.check("effectiveAreaMm2", area / MM2);
    }

    /** The part as the hole that has its conductance: the same where it chokes, and within the tolerance for a critical ratio of 0.5283. */
    private static void conductanceFlow(AirCase one) {
        PressureDrop drop = new PressureDrop(1e3 * one.number("upstreamKPa"), 1e3 * one.number("downstreamKPa"), one.number("kelvin"));

        double mass = OrificeFlow.massFlowKgPerS(one.number("sonicConductanceM3PerSPa") / SonicConductance.ofArea(1), drop);

        one.check("massFlowKgPerS", mass);
        one.check("anrLitresPerMinute", mass / FreeAir.ANR_KG_PER_M3 * 60e3);
    }

    /** The ellipse by which ISO 6358 stands in for the isentropic law is within 0.4 % of it. */
    private static void ellipse(AirCase one) {
        double choked = OrificeFlow.flux(1e5, 0, 293.15);
        for (int i = 0; i < one.inputs().get("pressureRatio").size(); i++) {
            double isentropic = OrificeFlow.fluxKgPerSM2(new PressureDrop(1e5, 1e5 * one.inputs().get("pressureRatio").get(i).doubleValue(), 293.15))
                    / choked;
            one.check("isentropic", one.expected().get("isentropic").get(i), isentropic);
            assertEquals(one.expected().get("ellipse").get(i).doubleValue(), isentropic, 0.004, "ellipse");
        }
    }

    private static void holeToFlow(AirCase one) {
        PressureDrop drop = new PressureDrop(one.ambientPa() + one.psi("upstreamGaugePsi"), one.ambientPa(), one.kelvin("celsius"));

        double mass = OrificeFlow.massFlowKgPerS(OrificeFlow.effectiveAreaM2(one.number("orificeMm") / 1e3, one.number("dischargeCoefficient")),
                drop);

        one.check("massFlowKgPerS", mass);
        one.check("freeAirLitresPerMinute", FreeAir.litresPerMinute(mass));
        one.check("anrLitresPerMinute", mass / FreeAir.ANR_KG_PER_M3 * 60e3);
        one.check("regime", drop.choked() ? "choked" : "subsonic");
    }

    private static void sideBySide(AirCase one) {
        double area = 0;
        for (JsonNode hole : one.inputs().get("holes")) {
            area += OrificeFlow.effectiveAreaM2(AirCase.number(hole, "orificeMm") / 1e3, AirCase.number(hole, "dischargeCoefficient"));
        }
        PressureDrop drop = new PressureDrop(one.ambientPa() + one.psi("upstreamGaugePsi"), one.ambientPa(), one.kelvin("celsius"));

        one.check("effectiveAreaMm2", area / MM2);
        one.check("orificeMmAt065", OrificeFlow.diameterM(area, 0.65) * 1e3);
        one.check("freeAirLitresPerMinute", FreeAir.litresPerMinute(OrificeFlow.massFlowKgPerS(area, drop)));
    }

    private static void higherUp(AirCase one) {
        double area = OrificeFlow.effectiveAreaM2(2e-3, 0.65);
        double ambient = FreeAir.atAltitudePa(feet(one));
        double gauge = one.psi("upstreamGaugePsi");

        double up = OrificeFlow.massFlowKgPerS(area, new PressureDrop(ambient + gauge, ambient, 293.15));

        double down = OrificeFlow.massFlowKgPerS(area, new PressureDrop(FreeAir.REFERENCE_PA + gauge, FreeAir.REFERENCE_PA, 293.15));
        one.check("freeAirLitresPerMinute", FreeAir.litresPerMinute(up));
        one.check("overSeaLevel", up / down);
        one.check("chokedAboveGaugePsi", UnitOfMeasure.PSI.fromSi(ambient / OrificeFlow.CRITICAL_RATIO - ambient));
    }

    private static double feet(AirCase one) {
        return UnitOfMeasure.FOOT.toSi(one.number("altitudeFeet"));
    }

    private static void referenceHole(AirCase one) {
        double gauge = UnitOfMeasure.INCH_OF_WATER.toSi(one.number("inchesOfWater"));
        PressureDrop drop = new PressureDrop(one.ambientPa() + gauge, one.ambientPa(), one.kelvin("celsius"));
        double diameter = 0.0254 * one.number("orificeInch");

        one.check("freeAirLitresPerMinuteAt100",
                FreeAir.litresPerMinute(OrificeFlow.massFlowKgPerS(OrificeFlow.effectiveAreaM2(diameter, 1), drop)));
        one.check("freeAirLitresPerMinuteAt065",
                FreeAir.litresPerMinute(OrificeFlow.massFlowKgPerS(OrificeFlow.effectiveAreaM2(diameter, 0.65), drop)));
    }

    /** A venturi of another gas: our choked air flow, its flow function and gas constant exchanged for the rule's. */
    private static void governmentRule(AirCase one) {
        JsonNode in = one.inputs();
        if (in.has("throatM2")) {
            double area = one.number("dischargeCoefficient") * one.number("throatM2");
            double chokedAir = OrificeFlow.massFlowKgPerS(area, new PressureDrop(one.number("inletPa"), 0, one.number("inletKelvin")));
            double airFunction = OrificeFlow.fluxKgPerSM2(new PressureDrop(1, 0, 293.15)) * Math.sqrt(OrificeFlow.AIR_J_PER_KG_K * 293.15);
            double gas = one.number("gasConstant") / one.number("molarMassKgPerMol");
            double mass = chokedAir * one.number("flowCoefficient") / airFunction * Math.sqrt(OrificeFlow.AIR_J_PER_KG_K / gas);
            one.check("molPerSecond", mass / one.number("molarMassKgPerMol"));
        } else if (in.has("kv")) {
            // Kv holds area and units; what is ours is that choked flow goes with p1/sqrt(T1).
            double perRoot = OrificeFlow.flux(1e3 * one.number("inletKPa"), 0, one.number("inletKelvin")) / OrificeFlow.flux(1e3, 0, 1);
            one.check("cubicMetrePerSecond", one.number("kv") * perRoot);
        } else {
            Decay.Hold hold = new Decay.Hold(one.number("firstPa"), one.number("lastPa"), one.number("seconds"), one.number("firstKelvin"),
                    one.number("lastKelvin"));
            double mass = -hold.lostPerVolume() * one.number("volumeM3") / one.number("seconds"); // a vacuum: the leak fills it
            one.check("molPerSecond", mass * OrificeFlow.AIR_J_PER_KG_K / UNIVERSAL_GAS);
        }
    }

    private static void governmentLibrary(AirCase one) {
        double ambient = UnitOfMeasure.PSI.toSi(one.number("ambientPsia"));
        double kelvin = UnitOfMeasure.FAHRENHEIT.toSi(one.number("fahrenheit"));
        double area = OrificeFlow.effectiveAreaM2(0.0254 * one.number("orificeInch"), one.number("dischargeCoefficient"));

        double mass = OrificeFlow.massFlowKgPerS(area, new PressureDrop(ambient + one.psi("supplyGaugePsi"), ambient, kelvin));

        one.check("poundPerMinutePerOrifice", UnitOfMeasure.POUND_PER_MINUTE.fromSi(mass));
        double density = ambient / (OrificeFlow.AIR_J_PER_KG_K * kelvin);
        one.check("cubicFeetPerMinute", UnitOfMeasure.CUBIC_FOOT_PER_MINUTE.fromSi(one.number("orifices") * mass / density));
    }

    // Tests to hole.

    private static AirTest.Flow freeAir(Measured flow) {
        return new AirTest.Flow(flow, AirTest.Reference.FREE_AIR, Optional.empty());
    }

    private static AirSystem system(double ratedPa, double chargeKelvin, Optional<EngineAir> engine) {
        return new AirSystem(OptionalDouble.of(ratedPa), OptionalDouble.empty(), OptionalDouble.of(chargeKelvin), OptionalDouble.empty(), engine);
    }

    private static AirSystem nothingKnown() {
        return new AirSystem(OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty(), Optional.empty());
    }

    private static void heldFlow(AirCase one) {
        AirTest test = new AirTest.HeldFlow(exact(one.psi("testGaugePsi")), freeAir(exact(one.litresPerMinute("freeAirLitresPerMinute"))),
                Optional.empty(), one.ambient(), exact(one.kelvin("testCelsius")), one.number("dischargeCoefficient"));

        ChargeAirResult result = ChargeAirJudge.judge(test, system(one.psi("ratedGaugePsi"), one.kelvin("chargeCelsius"), Optional.empty()), LIMITS);

        one.check("effectiveAreaMm2", result.effectiveAreaMm2().orElseThrow().value());
        one.check("orificeMm", result.orificeMm().orElseThrow().value());
        one.check("sonicConductanceM3PerSPa", result.sonicConductanceM3PerSPa().orElseThrow().value());
        ChargeAirResult.AtRatedBoost rated = result.atRatedBoost().orElseThrow();
        one.check("ratedMassFlowKgPerS", rated.massFlowKgPerS().value());
        one.check("ratedFreeAirLitresPerMinute", rated.freeAirLitresPerMinute().value());
        one.check("ratedOverTest", rated.massFlowKgPerS().value() / result.massFlowKgPerS().orElseThrow().value());
    }

    private static void heldBackground(AirCase one) {
        AirTest.HeldBackground background = new AirTest.HeldBackground(freeAir(exact(one.litresPerMinute("backgroundLitresPerMinute"))),
                Optional.of(exact(one.psi("backgroundGaugePsi"))));
        AirTest test = new AirTest.HeldFlow(exact(one.psi("testGaugePsi")), freeAir(exact(one.litresPerMinute("freeAirLitresPerMinute"))),
                Optional.of(background), one.ambient(), exact(one.kelvin("celsius")), 0.65);

        one.check("effectiveAreaMm2", area(test).value());
    }

    private static Measured area(AirTest test) {
        return ChargeAirJudge.judge(test, nothingKnown(), LIMITS).effectiveAreaMm2().orElseThrow();
    }

    private static AirTest.Timed timed(double startPa, double endPa, double seconds) {
        return new AirTest.Timed(exact(startPa), exact(endPa), exact(seconds));
    }

    private static AirTest.Timed timed(JsonNode node) {
        return timed(UnitOfMeasure.PSI.toSi(AirCase.number(node, "startGaugePsi")), UnitOfMeasure.PSI.toSi(AirCase.number(node, "endGaugePsi")),
                AirCase.number(node, "seconds"));
    }

    private static void holdDown(AirCase one) {
        AirTest test = new AirTest.HoldDown(exact(one.litres("volumeLitres")), timed(one.inputs()), Optional.empty(), one.ambient(),
                exact(one.kelvin("celsius")), Optional.empty(), 0.65);

        ChargeAirResult result = ChargeAirJudge.judge(test, nothingKnown(), LIMITS);

        double mass = result.massFlowKgPerS().orElseThrow().value();
        double area = result.effectiveAreaMm2().orElseThrow().value() * MM2;
        one.check("averageMassFlowKgPerS", mass);
        one.check("averageFreeAirLitresPerMinute", FreeAir.litresPerMinute(mass));
        one.check("effectiveAreaMm2", area / MM2);
        one.check("orificeMmAt065", result.orificeMm().orElseThrow().value());
        double atStart = OrificeFlow.flux(one.ambientPa() + one.psi("startGaugePsi"), one.ambientPa(), one.kelvin("celsius"));
        one.check("freeAirLitresPerMinuteAtStartPressure", FreeAir.litresPerMinute(area * atStart));
        one.check("areaFromAverageAtStartPressureMm2", mass / atStart / MM2);
    }

    private static void whereThePressureWillBe(AirCase one) {
        double kelvin = one.kelvin("celsius");
        Decay.Hold hold = new Decay.Hold(one.ambientPa() + one.psi("startGaugePsi"), one.ambientPa(), one.number("seconds"), kelvin, kelvin);

        double end = Decay.endPa(hold, one.litres("volumeLitres"), one.ambientPa(), one.number("effectiveAreaMm2") * MM2);

        one.check("endGaugePsi", UnitOfMeasure.PSI.fromSi(end - one.ambientPa()));
    }

    private static void sealed(AirCase one) {
        double start = one.ambientPa() + one.psi("startGaugePsi");
        Decay.Hold hold = new Decay.Hold(start, one.ambientPa(), 60, one.kelvin("startCelsius"), one.kelvin("endCelsius"));

        double end = Decay.endPa(hold, 0.02, one.ambientPa(), 0);
        AirTest test = new AirTest.HoldDown(exact(0.02), timed(start - one.ambientPa(), end - one.ambientPa(), 60), Optional.empty(), one.ambient(),
                new Measured(one.kelvin("startCelsius"), 1), Optional.of(new Measured(one.kelvin("endCelsius"), 1)), 0.65);

        one.check("endGaugePsi", UnitOfMeasure.PSI.fromSi(end - one.ambientPa()));
        one.check("apparentLossPsi", UnitOfMeasure.PSI.fromSi(start - end));
        one.check("massFlowKgPerS", ChargeAirJudge.judge(test, nothingKnown(), LIMITS).massFlowKgPerS().orElseThrow().value());
    }

    private static void drifting(AirCase one) {
        AirTest test = new AirTest.HoldDown(exact(one.litres("volumeLitres")), timed(one.inputs()), Optional.empty(), one.ambient(),
                exact(one.kelvin("startCelsius")), Optional.of(exact(one.kelvin("endCelsius"))), 0.65);

        ChargeAirResult result = ChargeAirJudge.judge(test, nothingKnown(), LIMITS);

        double mass = result.massFlowKgPerS().orElseThrow().value();
        one.check("averageMassFlowKgPerS", mass);
        one.check("averageFreeAirLitresPerMinute", FreeAir.litresPerMinute(mass));
        one.check("effectiveAreaMm2", result.effectiveAreaMm2().orElseThrow().value());
    }

    private static void holdBackground(AirCase one) {
        AirTest.Timed background = timed(one.inputs().get("background"));
        Measured volume = exact(one.litres("volumeLitres"));
        Measured kelvin = exact(one.kelvin("celsius"));

        one.check("effectiveAreaMm2", area(new AirTest.HoldDown(volume, timed(one.inputs().get("test")), Optional.of(background), one.ambient(),
                kelvin, Optional.empty(), 0.65)).value());
        one.check("backgroundAreaMm2",
                area(new AirTest.HoldDown(volume, background, Optional.empty(), one.ambient(), kelvin, Optional.empty(), 0.65)).value());
    }

    private static void fastFill(AirCase one) {
        double filled = one.ambientPa() + one.psi("fillGaugePsi");

        one.check("celsiusAfterFill", Filling.afterFillKelvin(filled, one.ambientPa(), one.kelvin("celsius")) - 273.15);
        one.check("settledGaugePsi", UnitOfMeasure.PSI.fromSi(Filling.settledPa(filled, one.ambientPa()) - one.ambientPa()));
    }

    private static void floatMeter(AirCase one) {
        double factor = FreeAir.floatMeterFactor(FreeAir.REFERENCE_PA + one.psi("meterGaugePsi"), one.kelvin("celsius"));
        AirTest.Flow flow = new AirTest.Flow(exact(one.litresPerMinute("indicatedLitresPerMinute")), AirTest.Reference.FLOAT_METER_UNDER_PRESSURE,
                Optional.of(exact(one.psi("meterGaugePsi"))));
        AirTest test = new AirTest.HeldFlow(exact(1e5), flow, Optional.empty(), one.ambient(), exact(one.kelvin("celsius")), 0.65);

        ChargeAirResult result = ChargeAirJudge.judge(test, nothingKnown(), LIMITS);

        one.check("factor", factor);
        one.check("freeAirLitresPerMinute", FreeAir.litresPerMinute(result.massFlowKgPerS().orElseThrow().value()));
    }

    private static EngineAir engine(AirCase one) {
        return new EngineAir(one.litres("displacementLitres"), one.number("revolutionsPerMinute"), one.number("volumetricEfficiency"),
                (int) one.number("strokes"));
    }

    private static void engineAir(AirCase one) {
        double boost = one.psi("boostGaugePsi");
        double charge = one.kelvin("chargeCelsius");
        double area = one.number("effectiveAreaMm2") * MM2;
        double flow = area * OrificeFlow.flux(one.ambientPa() + 1e5, one.ambientPa(), 293.15);
        AirTest test = new AirTest.HeldFlow(exact(1e5), new AirTest.Flow(exact(flow), AirTest.Reference.MASS, Optional.empty()), Optional.empty(),
                one.ambient(), exact(293.15), 0.65);

        ChargeAirResult.AtRatedBoost rated = ChargeAirJudge.judge(test, system(boost, charge, Optional.of(engine(one))), LIMITS).atRatedBoost()
                .orElseThrow();

        one.check("engineAirKgPerS", engine(one).massFlowKgPerS(one.ambientPa() + boost, charge));
        one.check("leakKgPerS", rated.massFlowKgPerS().value());
        one.check("shareOfEngineAir", rated.shareOfEngineAir().orElseThrow().value());
    }

    private static void shareToHole(AirCase one) {
        AirTest test = new AirTest.HeldFlow(exact(1e5), freeAir(exact(1e-4)), Optional.empty(), one.ambient(), exact(293.15),
                one.number("dischargeCoefficient"));
        AirSystem system = system(one.psi("boostGaugePsi"), one.kelvin("chargeCelsius"), Optional.of(engine(one)));

        double orifice = ChargeAirJudge.judge(test, system, new AirLimits(one.number("shareOfEngineAir"), OptionalDouble.empty())).orificeLimitMm()
                .orElseThrow();

        one.check("orificeMm", orifice);
        one.check("effectiveAreaMm2", OrificeFlow.effectiveAreaM2(orifice / 1e3, one.number("dischargeCoefficient")) / MM2);
    }

    private static void storedEnergy(AirCase one) {
        AirTest test = new AirTest.HoldDown(exact(one.litres("volumeLitres")), timed(one.psi("gaugePsi"), one.psi("gaugePsi") * 0.9, 30),
                Optional.empty(), one.ambient(), exact(293.15), Optional.empty(), 0.65);

        double energy = ChargeAirJudge.judge(test, nothingKnown(), LIMITS).storedEnergyJ().orElseThrow();

        one.check("isentropicExpansionJ", energy);
    }

    // Uncertainty.

    private static Measured read(AirCase one, String name, UnitOfMeasure unit) {
        return new Measured(unit.toSi(one.number(name)), unit.differenceToSi(AirCase.number(one.inputs().get("standardUncertainty"), name)));
    }

    private static Measured kilopascals(AirCase one) {
        return read(one, "ambientKPa", UnitOfMeasure.KILOPASCAL);
    }

    private static void heldUncertainty(AirCase one) {
        AirTest test = new AirTest.HeldFlow(read(one, "testGaugePsi", UnitOfMeasure.PSI),
                freeAir(read(one, "freeAirLitresPerMinute", UnitOfMeasure.LITRE_PER_MINUTE)), Optional.empty(), kilopascals(one),
                read(one, "testCelsius", UnitOfMeasure.CELSIUS), 0.65);

        uncertain(one, area(test));
    }

    private static void holdUncertainty(AirCase one) {
        AirTest.Timed hold = new AirTest.Timed(read(one, "startGaugePsi", UnitOfMeasure.PSI), read(one, "endGaugePsi", UnitOfMeasure.PSI),
                read(one, "seconds", UnitOfMeasure.SECOND));
        AirTest test = new AirTest.HoldDown(read(one, "volumeLitres", UnitOfMeasure.LITRE), hold, Optional.empty(), kilopascals(one),
                read(one, "celsius", UnitOfMeasure.CELSIUS), Optional.empty(), 0.65);

        uncertain(one, area(test));
    }

    private static void uncertain(AirCase one, Measured area) {
        one.check("effectiveAreaMm2", area.value());
        one.check("standardUncertaintyMm2", area.standardUncertainty());
        JsonNode simulated = one.expected().get("monteCarlo");
        one.check("monteCarlo", simulated.get("standardUncertaintyMm2"), area.standardUncertainty());
        one.check("monteCarlo", simulated.get("high95Mm2"), area.value() + Grounds.COVERAGE_95 * area.standardUncertainty());
    }
}
