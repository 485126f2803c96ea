package comebackledger.stat;

import comebackledger.Require;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * A rate of events with its exact limits (Garwood 1936): chi2(a/2; 2x)/(2e) and chi2(1-a/2; 2x+2)/(2e). At no events the low limit is 0 and the high one
 * keeps the half level.
 */
public record PoissonInterval(double rate, double low, double high) {
    /** @param exposure above 0 */
    public static PoissonInterval of(double events, double exposure, double confidenceLevel) {
        Require.that(events >= 0 && events == Math.rint(events), "events must be whole and 0 or more, was %s", events);
        Require.that(exposure > 0 && Double.isFinite(exposure), "exposure must be above 0, was %s", exposure);
        Require.that(confidenceLevel > 0 && confidenceLevel < 1, "confidenceLevel must be between 0 and 1, was %s", confidenceLevel);
        double tail = (1 - confidenceLevel) / 2;
        double low = events == 0 ? 0 : ChiSquaredDistribution.of(2 * events).inverseCumulativeProbability(tail) / (2 * exposure);
        double high = ChiSquaredDistribution.of(2 * events + 2).inverseSurvivalProbability(tail) / (2 * exposure);
        return new PoissonInterval(events / exposure, low, high);
    }
}
