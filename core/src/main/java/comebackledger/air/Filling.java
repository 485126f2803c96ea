package comebackledger.air;

/**
 * A rigid volume filled quickly from a line at the temperature of the air already in it, without loss of heat: the most that filling can heat.
 * <pre>
 *   T2 = g T / (1 + (g-1) pa/p)        settled, with the valve closed: p T/T2
 * </pre>
 * Source: energy balance of the filled volume (the enthalpy that enters becomes internal energy), own derivation.
 */
final class Filling {
    private Filling() {}

    /** @param filledPa, ambientPa absolute */
    static double afterFillKelvin(double filledPa, double ambientPa, double kelvin) {
        return OrificeFlow.GAMMA * kelvin / (1 + (OrificeFlow.GAMMA - 1) * ambientPa / filledPa);
    }

    /** The absolute pressure that is left once the air is back at the temperature it was filled from. */
    static double settledPa(double filledPa, double ambientPa) {
        return filledPa * (1 + (OrificeFlow.GAMMA - 1) * ambientPa / filledPa) / OrificeFlow.GAMMA;
    }
}
