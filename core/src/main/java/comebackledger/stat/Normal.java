package comebackledger.stat;

import org.apache.commons.statistics.distribution.NormalDistribution;

/** The standard normal law, with tails that keep their digits. */
final class Normal {
    private static final NormalDistribution STANDARD = NormalDistribution.of(0, 1);

    private Normal() {}

    /** Two-sided p-value of a z. */
    static double twoSided(double z) {
        return Math.min(1, 2 * STANDARD.survivalProbability(Math.abs(z)));
    }

    /** The z of a two-sided confidence level. */
    static double z(double confidenceLevel) {
        return STANDARD.inverseSurvivalProbability((1 - confidenceLevel) / 2);
    }
}
