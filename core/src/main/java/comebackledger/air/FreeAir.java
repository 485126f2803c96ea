package comebackledger.air;

import comebackledger.Require;

/** The conditions that flow meters refer to, and the atmosphere. */
public final class FreeAir {
    /** 20 degC. */
    public static final double REFERENCE_KELVIN = 293.15;
    /** Of the standard atmosphere at sea level, Pa. */
    public static final double REFERENCE_PA = 101_325;
    /** At 20 degC and 101.325 kPa, dry. */
    public static final double FREE_AIR_KG_PER_M3 = REFERENCE_PA / (OrificeFlow.AIR_J_PER_KG_K * REFERENCE_KELVIN);
    /** ISO 8778: 20 degC, 100 kPa, 65 % humidity. */
    public static final double ANR_KG_PER_M3 = 1.185;

    private static final double SEA_LEVEL_KELVIN = 288.15; // US Standard Atmosphere 1976
    private static final double KELVIN_PER_METRE = 0.0065; // the same
    private static final double EXPONENT = 5.25588; // g/(R L), the same

    private FreeAir() {}

    public static double litresPerMinute(double massFlowKgPerS) {
        return massFlowKgPerS / FREE_AIR_KG_PER_M3 * 60_000;
    }

    /**
     * A float meter marked for air at ambient reference conditions, used under pressure: the true free-air flow is what it shows times
     * sqrt(p/p0 T0/T). Source: square-root law of the variable-area meter, arithmetic.
     */
    static double floatMeterFactor(double meterPa, double kelvin) {
        return Math.sqrt(meterPa / REFERENCE_PA * REFERENCE_KELVIN / kelvin);
    }

    /** Pressure of the US Standard Atmosphere 1976 in the troposphere. @param metres above sea level, -500 to 11 000 */
    public static double atAltitudePa(double metres) {
        Require.that(metres >= -500 && metres <= 11_000, "altitude must be from -500 m to 11 000 m, was %s", metres);
        return REFERENCE_PA * Math.pow(1 - KELVIN_PER_METRE * metres / SEA_LEVEL_KELVIN, EXPONENT);
    }
}
