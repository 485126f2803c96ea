package comebackledger.air;

/**
 * Standard uncertainties assumed where a test gives none. Shares are of the reading and added to the constant beside them.
 */
public record Instruments(double pressureShare, double pressurePa, double flowShare, double flowM3PerS, double kelvin, double ambientPa,
        double volumeShare,
        double seconds) {
    /** Common practice, no source. */
    public static final Instruments DEFAULT = new Instruments(0.01, 500, 0.025, 0.2e-3 / 60, 2, 500, 0.05, 0.3);
}
