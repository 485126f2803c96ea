package comebackledger.air;

import comebackledger.Require;

/**
 * The air an engine takes at rated boost: m = rho e D n / (60 k), rho = p/(R T) of the charge, e volumetric efficiency, D displacement, n speed
 * per minute, k = strokes/2 revolutions for each filling.
 *
 * @param displacementM3 of all cylinders
 * @param volumetricEfficiency of the charge at boost, 0 to 1.5
 */
public record EngineAir(double displacementM3, double ratedSpeedRpm, double volumetricEfficiency, int strokes) {
    public EngineAir {
        Require.that(displacementM3 > 0 && displacementM3 <= 1, "displacementM3 must be above 0 and at most 1, was %s", displacementM3);
        Require.that(ratedSpeedRpm > 0 && ratedSpeedRpm <= 20_000, "ratedSpeedRpm must be above 0 and at most 20 000, was %s", ratedSpeedRpm);
        Require.that(volumetricEfficiency > 0 && volumetricEfficiency <= 1.5, "volumetricEfficiency must be above 0 and at most 1.5, was %s",
                volumetricEfficiency);
        Require.that(strokes == 2 || strokes == 4, "strokes must be 2 or 4, was %s", strokes);
    }

    /** kg/s at a charge of this absolute pressure and temperature. */
    public double massFlowKgPerS(double chargePa, double chargeKelvin) {
        double density = chargePa / (OrificeFlow.AIR_J_PER_KG_K * chargeKelvin);
        return density * volumetricEfficiency * displacementM3 * ratedSpeedRpm / 60 / (strokes / 2.0);
    }
}
