package comebackledger.air;

/**
 * The sonic conductance (ISO 6358) that a plain hole has: C = A psi* / (rho0 sqrt(R T0)), m3/(s Pa), with psi* the choked flow function, rho0 = 1.185 kg/m3
 * and T0 = 293.15 K (ISO 8778). Choked, a part of conductance C passes m = C p1 rho0 sqrt(T0/T1).
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
}
