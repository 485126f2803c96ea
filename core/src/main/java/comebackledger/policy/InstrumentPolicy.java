package comebackledger.policy;

import comebackledger.Require;

/**
 * Standard uncertainties assumed when a visit gives none (common practice, no source).
 *
 * @param pressureShare of a test pressure, with {@code pressurePa} added in quadrature-free sum as stated by instrument makers: share + constant
 * @param meterRelativeAccuracy a bound of the ohmmeter, common to all readings of one check
 */
public record InstrumentPolicy(double pressureShare, double pressurePa, double flowShare, double flowLitresPerMinute, double temperatureK,
        double ambientPa,
        double volumeShare, double timeS, double dischargeCoefficient, double dischargeCoefficientUncertainty, double meterRelativeAccuracy,
        double meterDigitOhm, double leadOhm, double terminatorShare) {
    public static final InstrumentPolicy DEFAULT = new InstrumentPolicy(0.01, 500, 0.025, 0.2, 2, 500, 0.05, 0.3, 0.65, 0.04, 0.008, 0.1, 0.2, 0.012);

    public InstrumentPolicy {
        for (double share : new double[]{pressureShare, flowShare, volumeShare, meterRelativeAccuracy, terminatorShare}) {
            Require.that(share >= 0 && share <= 0.5, "a share must be from 0 to 0.5, was %s", share);
        }
        for (double constant : new double[]{pressurePa, flowLitresPerMinute, temperatureK, ambientPa, timeS, meterDigitOhm, leadOhm}) {
            Require.that(constant >= 0 && constant <= 1e5, "an instrument's uncertainty must be 0 or more, was %s", constant);
        }
        Require.that(dischargeCoefficient > 0.1 && dischargeCoefficient <= 1, "dischargeCoefficient must be above 0.1 and at most 1, was %s",
                dischargeCoefficient);
        Require.that(dischargeCoefficientUncertainty >= 0 && dischargeCoefficientUncertainty < dischargeCoefficient,
                "dischargeCoefficientUncertainty must be 0 or more and below the coefficient, was %s", dischargeCoefficientUncertainty);
    }
}
