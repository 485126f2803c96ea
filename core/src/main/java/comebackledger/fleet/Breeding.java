package comebackledger.fleet;

import java.util.Arrays;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.numbers.gamma.Digamma;
import org.apache.commons.numbers.rootfinder.BrentSolver;

/**
 * How many returns a fresh episode brings: each repair fails with the unit's own chance p, so that a chain of returns is geometric.
 * <pre>
 *   m = p/(1-p) returns a fresh episode           p ~ beta(a, b), so m ~ beta-prime(a, b) with mean a/(b-1)
 *   R returns after F fresh episodes  ->  p ~ beta(a + R, b + F)
 *   a = M t, b = 1 + t:  M = sum R / sum F over all units, t by penalised maximum likelihood of  prod B(a + R, b + F)/B(a, b)
 * </pre>
 * The penalty is the logarithm of the spread, which goes as t to the power -1/2 (Chung, Rabe-Hesketh, Dorie, Gelman and Liu 2013, Psychometrika 78, 685,
 * on likelihoods that are largest where the spread is none): in a small fleet nothing tells that repairs fail alike, and if they did, a unit's own returns
 * would not count at all.
 *
 * @param mean M
 * @param weight t; empty where nothing returned, so that M holds for all
 */
record Breeding(double mean, Optional<Double> weight) {
    private static final double LOG_SMALLEST = -6;
    private static final double LOG_LARGEST = 12;
    /** Of the logarithm of t. */
    private static final double PENALTY = 0.5;

    /** Where nothing returned, or nothing was fresh, half an event stands in. */
    static Breeding fit(Counted counted) {
        double allReturns = Arrays.stream(counted.returns()).sum();
        double allFresh = Arrays.stream(counted.fresh()).sum();
        double mean = Math.max(0.5, allReturns) / Math.max(0.5, allFresh);
        if (allReturns == 0) {
            return new Breeding(mean, Optional.empty());
        }
        return new Breeding(mean, Optional.of(Math.exp(likeliest(log -> slope(counted, mean, Math.exp(log)) * Math.exp(log) - PENALTY))));
    }

    /** @param slope of the penalised likelihood, by ln t */
    private static double likeliest(DoubleUnaryOperator slope) {
        if (slope.applyAsDouble(LOG_SMALLEST) <= 0) {
            return LOG_SMALLEST;
        }
        return slope.applyAsDouble(LOG_LARGEST) >= 0 ? LOG_LARGEST : new BrentSolver(1e-6, 1e-6, 1e-12).findRoot(slope, LOG_SMALLEST, LOG_LARGEST);
    }

    /** The derivative of the log likelihood by t. */
    private static double slope(Counted counted, double mean, double weight) {
        double sum = 0;
        double none = slope(mean, mean * weight, 1 + weight);
        for (int kind = 0; kind < counted.kinds(); kind++) {
            sum += counted.kindUnits(kind)
                    * (slope(mean, mean * weight + counted.kindReturns(kind), 1 + weight + counted.kindFresh(kind)) - none);
        }
        return sum;
    }

    /** Of ln B(a, b), where a grows by the mean and b by 1. */
    private static double slope(double mean, double a, double b) {
        return mean * Digamma.value(a) + Digamma.value(b) - (mean + 1) * Digamma.value(a + b);
    }
}
