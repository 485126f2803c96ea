package comebackledger.stat;

import comebackledger.Require;
import org.apache.commons.statistics.distribution.PoissonDistribution;

/**
 * Whether two rates differ, unconditionally: the chance, at the pooled rate, of a difference as large as the one seen in units of its own error (E-test of
 * Krishnamoorthy and Thomson 2004, doi 10.1016/S0378-3758(02)00408-1). Less conservative than the conditional test.
 * <pre>
 *   T = (x1/e1 - x2/e2) / sqrt(x1/e1^2 + x2/e2^2)      p = sum of Poisson probabilities of all (x1, x2) with |T| at least the one seen
 * </pre>
 *
 * @param pValue two-sided; @param pValueGreater that the first is the larger
 */
public record RateETest(double pValue, double pValueGreater) {
    private static final double TAIL = 1e-12;

    /** @param exposures above 0 */
    public static RateETest of(int firstEvents, double firstExposure, int secondEvents, double secondExposure) {
        Require.that(firstEvents >= 0 && secondEvents >= 0 && firstEvents + secondEvents <= 100_000,
                "events must be 0 or more, at most 100 000 together");
        Require.that(firstExposure > 0 && secondExposure > 0, "exposures must be above 0, were %s and %s", firstExposure, secondExposure);
        if (firstEvents + secondEvents == 0) {
            return new RateETest(1, 1);
        }
        double seen = statistic(firstEvents, firstExposure, secondEvents, secondExposure);
        double pooled = (firstEvents + secondEvents) / (firstExposure + secondExposure);
        PoissonDistribution first = PoissonDistribution.of(pooled * firstExposure);
        PoissonDistribution second = PoissonDistribution.of(pooled * secondExposure);
        int firstTo = first.inverseSurvivalProbability(TAIL);
        int secondTo = second.inverseSurvivalProbability(TAIL);
        double both = 0;
        double greater = 0;
        for (int i = 0; i <= firstTo; i++) {
            double ofFirst = first.probability(i);
            for (int j = 0; j <= secondTo; j++) {
                double t = statistic(i, firstExposure, j, secondExposure);
                double chance = ofFirst * second.probability(j);
                both += Math.abs(t) >= Math.abs(seen) ? chance : 0;
                greater += t >= seen ? chance : 0;
            }
        }
        return new RateETest(Math.min(1, both), Math.min(1, greater));
    }

    private static double statistic(double x1, double e1, double x2, double e2) {
        return x1 + x2 == 0 ? 0 : (x1 / e1 - x2 / e2) / Math.sqrt(x1 / (e1 * e1) + x2 / (e2 * e2));
    }
}
