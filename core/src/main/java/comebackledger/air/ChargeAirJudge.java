package comebackledger.air;

import comebackledger.air.ChargeAirResult.AtRatedBoost;
import comebackledger.air.ChargeAirResult.Regime;
import comebackledger.air.ChargeAirResult.Verdict;
import comebackledger.measure.Measured;
import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;

/**
 * From a test to the size of the leak, what it costs at rated boost, and the verdict by the share of the engine's air it takes there. The best estimate
 * decides; a size cannot be below nothing, so an estimate below 0 within its uncertainty is 0.
 */
public final class ChargeAirJudge {
    private static final double MM2 = 1e-6;
    /** Charge temperature at rated boost where the build tells none (common practice, no source). */
    private static final Measured USUAL_CHARGE_KELVIN = new Measured(323.15, 15);
    /** An estimate more than this many standard uncertainties below 0 contradicts itself: two hold for 95 % (JCGM 100:2008, 6.3.3). */
    private static final double BELOW_NOTHING = 2;

    private ChargeAirJudge() {}

    /** A smoke test: looked at, not measured. */
    public static ChargeAirResult looked(boolean leakSeen, Optional<Double> testPa, AirSystem system) {
        return ChargeAirResult.unsized(leakSeen ? Verdict.OUTSIDE : Verdict.WITHIN, Optional.empty(),
                storedEnergy(system, testPa.orElse(0.0), FreeAir.REFERENCE_PA), AirCautions.looked(testPa.orElse(0.0), system));
    }

    public static ChargeAirResult judge(AirTest test, AirSystem system, AirLimits limits) {
        Optional<String> impossible = switch (test) {
            case AirTest.HeldFlow held -> impossible(held);
            case AirTest.HoldDown hold -> impossible(hold);
        };
        if (impossible.isPresent()) {
            return invalid(test, system, impossible.get());
        }
        AreaModel model = switch (test) {
            case AirTest.HeldFlow held -> new HeldFlowModel(held);
            case AirTest.HoldDown hold -> new HoldDownModel(hold);
        };
        try {
            Measured area = Propagation.of(model.inputs(), model::areaM2);
            return area.value() < -BELOW_NOTHING * area.standardUncertainty()
                    ? invalid(test, system, belowNothing(test))
                    : sized(test, model, clipped(area), system, limits);
        } catch (IllegalArgumentException e) {
            return invalid(test, system, "The readings are too uncertain for any size. Test at a higher pressure, or for longer.");
        }
    }

    private static String belowNothing(AirTest test) {
        boolean background = switch (test) {
            case AirTest.HeldFlow held -> held.background().isPresent();
            case AirTest.HoldDown hold -> hold.background().isPresent();
        };
        return background
                ? "The set-up alone leaked more than the whole, and nothing is smaller than no hole. Check the background test and its fittings."
                : "By pressure and temperature the volume held more air at the end than at the start. Let the temperature settle, and repeat.";
    }

    /** A test that lacks what would size its leak. */
    public static ChargeAirResult unjudged(AirTest test, AirSystem system, String why) {
        return ChargeAirResult.unsized(Verdict.UNJUDGED, Optional.of(why), OptionalDouble.empty(), AirCautions.measured(test, system));
    }

    private static Measured clipped(Measured value) {
        return new Measured(Math.max(0, value.value()), value.standardUncertainty());
    }

    private static Optional<String> impossible(AirTest.HeldFlow held) {
        if (held.testPa().value() <= 0) {
            return Optional.of("The test pressure is not above ambient, so nothing flows that could be judged. Send the gauge pressure of the test.");
        }
        boolean background = held.background().flatMap(AirTest.HeldBackground::testPa).filter(pa -> pa.value() <= 0).isPresent();
        return background ? Optional.of("The background's test pressure is not above ambient.") : Optional.empty();
    }

    private static Optional<String> impossible(AirTest.HoldDown hold) {
        return impossible(hold.hold(), "The", 1, hold.endKelvin().isPresent())
                .or(() -> hold.background().flatMap(timed -> impossible(timed, "The background's", BELOW_NOTHING, false)));
    }

    /**
     * A rise within what the gauge can tell is a hold without a fall; a larger one needs a temperature that explains it.
     *
     * @param risen how many standard uncertainties of the difference still count as no rise: a set-up is tight more often than a system is
     */
    private static Optional<String> impossible(AirTest.Timed timed, String whose, double risen, boolean warmed) {
        double told = risen * Math.hypot(timed.startPa().standardUncertainty(), timed.endPa().standardUncertainty());
        if (timed.startPa().value() <= 0) {
            return Optional.of(whose + " start pressure is not above ambient, so nothing could leak. Send the gauge pressure at the start.");
        }
        if (!warmed && timed.endPa().value() > timed.startPa().value() + told) {
            return Optional.of(whose + " pressure rose during the hold: no leak does that. Check the valve, and let the temperature settle.");
        }
        if (timed.endPa().value() <= 0) {
            return Optional
                    .of(whose + " pressure fell to ambient before the time was up, so the hole is only known to be larger. Time a shorter fall.");
        }
        return timed.seconds().value() <= 0 ? Optional.of(whose + " duration must be above 0.") : Optional.empty();
    }

    private static ChargeAirResult invalid(AirTest test, AirSystem system, String why) {
        return ChargeAirResult.unsized(Verdict.INVALID, Optional.of(why),
                storedEnergy(withVolume(test, system), test.gaugePa(), test.ambientPa().value()), AirCautions.measured(test, system));
    }

    private static AirSystem withVolume(AirTest test, AirSystem system) {
        return test instanceof AirTest.HoldDown hold ? system.withVolumeM3(hold.volumeM3().value()) : system;
    }

    private static ChargeAirResult sized(AirTest test, AreaModel model, Measured area, AirSystem system, AirLimits limits) {
        double coefficient = test.dischargeCoefficient();
        Optional<AtRatedBoost> rated = atRatedBoost(test, model, system);
        Measured orifice = diameter(area, coefficient);
        OptionalDouble limit = orificeLimitMm(test, system, limits.maxLossShare());
        Optional<Measured> share = rated.flatMap(AtRatedBoost::shareOfEngineAir);
        Verdict verdict = Verdict.UNJUDGED;
        Optional<String> grounds = Optional.empty();
        Optional<String> undefined = Optional.empty();
        if (share.isPresent()) {
            verdict = share.get().value() > limits.maxLossShare() ? Verdict.OUTSIDE : Verdict.WITHIN;
            grounds = Optional.of(Grounds.share(share.get(), limits.maxLossShare()));
        } else if (limits.maxOrificeMm().isPresent()) {
            verdict = orifice.value() > limits.maxOrificeMm().getAsDouble() ? Verdict.OUTSIDE : Verdict.WITHIN;
            grounds = Optional.of(Grounds.orifice(orifice, limits.maxOrificeMm().getAsDouble()));
        } else {
            undefined = Optional.of("The share of engine air needs the engine (displacement, rated speed) and the rated boost in the build, "
                    + "or a maxOrificeMm in the policy.");
        }
        double gauge = test.gaugePa();
        PressureDrop drop = new PressureDrop(test.ambientPa().value() + gauge, test.ambientPa().value(), test.kelvin().value());
        return new ChargeAirResult(verdict, undefined, Optional.of(drop.choked() ? Regime.CHOKED : Regime.SUBSONIC),
                Optional.of(clipped(Propagation.of(model.inputs(), model::massFlowKgPerS))),
                Optional.of(new Measured(area.value() / MM2, area.standardUncertainty() / MM2)), Optional.of(orifice),
                Optional.of(new Measured(SonicConductance.ofArea(area.value()), SonicConductance.ofArea(area.standardUncertainty()))), rated,
                limit.isPresent() ? limit : limits.maxOrificeMm(),
                storedEnergy(withVolume(test, system), gauge, test.ambientPa().value()), grounds,
                AirCautions.measured(test, system));
    }

    /** In mm. Near no hole the diameter grows with the root of the area, so there its uncertainty is what the area's 95 % limit asks for. */
    private static Measured diameter(Measured area, double coefficient) {
        double value = OrificeFlow.diameterM(area.value(), coefficient) * 1e3;
        double up = OrificeFlow.diameterM(area.value() + area.standardUncertainty(), coefficient) * 1e3;
        double down = OrificeFlow.diameterM(Math.max(0, area.value() - area.standardUncertainty()), coefficient) * 1e3;
        double most = OrificeFlow.diameterM(area.value() + Grounds.COVERAGE_95 * area.standardUncertainty(), coefficient) * 1e3;
        return new Measured(value, Math.max((up - down) / 2, (most - value) / Grounds.COVERAGE_95));
    }

    private static Optional<AtRatedBoost> atRatedBoost(AirTest test, AreaModel model, AirSystem system) {
        if (system.ratedBoostPa().isEmpty()) {
            return Optional.empty();
        }
        Measured charge = system.chargeKelvin().isPresent() ? new Measured(system.chargeKelvin().getAsDouble(), 0) : USUAL_CHARGE_KELVIN;
        Measured[] own = model.inputs();
        Measured[] inputs = Arrays.copyOf(own, own.length + 1);
        inputs[own.length] = charge;
        double boost = system.ratedBoostPa().getAsDouble();
        ToDoubleFunction<double[]> mass = x -> model.areaM2(x) * OrificeFlow.flux(model.ambientPa(x) + boost, model.ambientPa(x), x[own.length]);
        Measured flow = clipped(Propagation.of(inputs, mass));
        Measured litres = new Measured(FreeAir.litresPerMinute(flow.value()), FreeAir.litresPerMinute(flow.standardUncertainty()));
        Optional<Measured> share = system.engine().map(engine -> clipped(Propagation.of(inputs,
                x -> mass.applyAsDouble(x) / engine.massFlowKgPerS(model.ambientPa(x) + boost, x[own.length]))));
        return Optional.of(new AtRatedBoost(flow, litres, share));
    }

    /** The hole, mm, that loses a share of the engine's air at rated boost. */
    static OptionalDouble orificeLimitMm(AirTest test, AirSystem system, double share) {
        if (system.ratedBoostPa().isEmpty() || system.engine().isEmpty() || system.ratedBoostPa().getAsDouble() <= 0) {
            return OptionalDouble.empty();
        }
        double ambient = test.ambientPa().value();
        double kelvin = system.chargeKelvin().orElse(USUAL_CHARGE_KELVIN.value());
        double boosted = ambient + system.ratedBoostPa().getAsDouble();
        double area = share * system.engine().get().massFlowKgPerS(boosted, kelvin) / OrificeFlow.flux(boosted, ambient, kelvin);
        return OptionalDouble.of(OrificeFlow.diameterM(area, test.dischargeCoefficient()) * 1e3);
    }

    /** Work of the isentropic expansion of the volume from the test pressure to ambient, J. */
    private static OptionalDouble storedEnergy(AirSystem system, double gaugePa, double ambientPa) {
        if (system.volumeM3().isEmpty() || gaugePa <= 0) {
            return OptionalDouble.empty();
        }
        double pa = ambientPa + gaugePa;
        double exponent = (OrificeFlow.GAMMA - 1) / OrificeFlow.GAMMA;
        return OptionalDouble.of(pa * system.volumeM3().getAsDouble() / (OrificeFlow.GAMMA - 1) * (1 - Math.pow(ambientPa / pa, exponent)));
    }

    /** A test as a function of its inputs, so that their uncertainties can be propagated. */
    interface AreaModel {
        Measured[] inputs();

        double areaM2(double[] x);

        double massFlowKgPerS(double[] x);

        double ambientPa(double[] x);
    }
}
