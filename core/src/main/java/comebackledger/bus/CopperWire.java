package comebackledger.bus;

import comebackledger.Require;

/**
 * The resistance of one metre of solid annealed copper: NBS Handbook 100, Copper Wire Tables (1966), by its definitions: diameters of the
 * gauge as in ASTM B258, 100 % IACS (1.7241e-8 ohm m at 20 degC), 0.00393 per kelvin. Stranded wire is 2 to 4 % higher.
 */
public final class CopperWire {
    private static final double OHM_METRE = 1.7241e-8;
    private static final double PER_KELVIN = 0.00393;

    private CopperWire() {}

    public static double ohmPerMetre(int gauge, double celsius) {
        Require.that(gauge >= 0 && gauge <= 40, "gauge must be from 0 to 40, was %s", gauge);
        Require.that(celsius >= -60 && celsius <= 200, "celsius must be from -60 to 200, was %s", celsius);
        double diameterMetres = 0.127e-3 * Math.pow(92, (36 - gauge) / 39.0);
        return OHM_METRE / (Math.PI / 4 * diameterMetres * diameterMetres) * (1 + PER_KELVIN * (celsius - 20));
    }
}
