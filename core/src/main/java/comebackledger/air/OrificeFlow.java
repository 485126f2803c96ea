package comebackledger.air;

import comebackledger.Require;

/**
 * Air through a small opening: an ideal gas, isentropic to the throat, choked or subsonic.
 * <pre>
 *   m = A p1/sqrt(R T1) psi(r)                             r  = max(p2/p1, r*)
 *   psi(r) = sqrt( 2g/(g-1) (r^(2/g) - r^((g+1)/g)) )      r* = (2/(g+1))^(g/(g-1))
 *
 *   m  mass flow, kg/s     A  effective area (discharge coefficient times area), m2     g  ratio of specific heats
 *   T1 upstream, K         p1, p2  upstream and downstream, absolute, Pa
 * </pre>
 * Holding r at r* is what choking means: one formula, and no step between the regimes.
 * Source: isentropic flow relations, NACA Report 1135 (1953). Upstream air counts as at rest: for openings small beside the pipe.
 */
public final class OrificeFlow {
    static final double GAMMA = 1.4; // dry air, NACA Report 1135
    static final double AIR_J_PER_KG_K = 287.05; // specific gas constant of dry air, US Standard Atmosphere 1976, rounded
    /** Of the pressures, below which the flow is choked. */
    public static final double CRITICAL_RATIO = Math.pow(2 / (GAMMA + 1), GAMMA / (GAMMA - 1));

    private OrificeFlow() {}

    /** @throws IllegalArgumentException if the area (m2) is negative or not finite */
    public static double massFlowKgPerS(double effectiveAreaM2, PressureDrop drop) {
        Require.that(effectiveAreaM2 >= 0 && Double.isFinite(effectiveAreaM2), "effectiveAreaM2 must be 0 or more, was %s", effectiveAreaM2);
        return effectiveAreaM2 * fluxKgPerSM2(drop);
    }

    /** Mass flow for each m2 of effective area; 0 without a pressure drop. */
    public static double fluxKgPerSM2(PressureDrop drop) {
        return flux(drop.upstreamPa(), drop.downstreamPa(), drop.upstreamKelvin());
    }

    static double flux(double upstreamPa, double downstreamPa, double kelvin) {
        double ratio = Math.min(1, Math.max(downstreamPa / upstreamPa, CRITICAL_RATIO));
        // The difference of powers loses its digits as r nears 1, where most shop tests are; expm1 keeps them.
        double lost = Math.max(0.0, -Math.expm1((GAMMA - 1) / GAMMA * Math.log(ratio)));
        double psi = Math.sqrt(2 * GAMMA / (GAMMA - 1) * Math.pow(ratio, 2 / GAMMA) * lost);
        return upstreamPa / Math.sqrt(AIR_J_PER_KG_K * kelvin) * psi;
    }

    /** The diameter, m, of the single round hole of this effective area at a discharge coefficient. */
    public static double diameterM(double effectiveAreaM2, double dischargeCoefficient) {
        return Math.sqrt(4 * effectiveAreaM2 / (Math.PI * dischargeCoefficient));
    }

    /** The effective area, m2, of a round hole. */
    public static double effectiveAreaM2(double diameterM, double dischargeCoefficient) {
        return dischargeCoefficient * Math.PI / 4 * diameterM * diameterM;
    }
}
