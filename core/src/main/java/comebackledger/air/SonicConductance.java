package comebackledger.air;

import comebackledger.Require;

/**
 * Flow through a part described by its sonic conductance and critical ratio (ISO 6358, flow law from memory).
 * <pre>
 *   m = C p1 rho0 sqrt(T0/T1)                                        p2/p1 at or below b
 *   m = C p1 rho0 sqrt(T0/T1) sqrt(1 - ((p2/p1 - b)/(1 - b))^2)      above
 *
 *   C  sonic conductance, m3/(s Pa)    b  critical ratio    rho0 = 1.185 kg/m3, T0 = 293.15 K (ISO 8778)
 * </pre>
 * Of a plain hole C = A psi* / (rho0 sqrt(R T0)), with psi* the choked flow function.
 */
public final class SonicConductance {
    private static final double CHOKED_PSI = Math.sqrt(OrificeFlow.GAMMA) * Math.pow(2 / (OrificeFlow.GAMMA + 1),
            (OrificeFlow.GAMMA + 1) / (2 * (OrificeFlow.GAMMA - 1)));
    private static final double PER_AREA = CHOKED_PSI / (FreeAir.ANR_KG_PER_M3 * Math.sqrt(OrificeFlow.AIR_J_PER_KG_K * FreeAir.REFERENCE_KELVIN));

    private SonicConductance() {}

    /** Of a hole with this effective area, m2; in m3/(s Pa). */
    public static double ofArea(double effectiveAreaM2) {
        return effectiveAreaM2 * PER_AREA;
    }

    /** The effective area, m2, of the hole with this sonic conductance, m3/(s Pa). */
    public static double area(double conductance) {
        return conductance / PER_AREA;
    }

    /** kg/s. @throws IllegalArgumentException if the conductance is negative or the critical ratio not from 0 to below 1 */
    public static double massFlowKgPerS(double conductance, double criticalRatio, PressureDrop drop) {
        Require.that(conductance >= 0 && Double.isFinite(conductance), "conductance must be 0 or more, was %s", conductance);
        Require.that(criticalRatio >= 0 && criticalRatio < 1, "criticalRatio must be from 0 to below 1, was %s", criticalRatio);
        double choked = conductance * drop.upstreamPa() * FreeAir.ANR_KG_PER_M3 * Math.sqrt(FreeAir.REFERENCE_KELVIN / drop.upstreamKelvin());
        double ratio = drop.downstreamPa() / drop.upstreamPa();
        double above = Math.max(0, (ratio - criticalRatio) / (1 - criticalRatio));
        return choked * Math.sqrt(1 - above * above);
    }
}
