package comebackledger.stat;

import comebackledger.Require;
import java.util.Arrays;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.numbers.rootfinder.BrentSolver;
import org.apache.commons.statistics.distribution.BinomialDistribution;

/**
 * The rate of one group of units over another's, with the spread between units counted: a few bad units must not make their tag look bad.
 * <pre>
 *   given all X events, those of the first group are beta-binomial: n = X, mean share s = theta E1/(theta E1 + E2), correlation rho
 *   rho  = a r^2 ( (1-s)^2 sum1 e^2 + s^2 sum2 e^2 ) / ( X s (1-s) ),   r = X/(E1+E2), s at theta = 1
 *   a    = max(0, ( n/(n-2) sum (x-m)^2 - sum m ) / sum m^2 ),   m = e times the rate of the unit's own group, over the n units with exposure
 *   low  = theta at which P(K >= x1) is (1-level)/2;  high: P(K <= x1);  p = 2 min of the tails at theta = 1
 * </pre>
 * a is the squared coefficient of variation of the units' own rates, by moments; rho gives the share the variance that such a spread gives it. Without
 * spread rho is 0 and this is the exact conditional test with its Clopper-Pearson limits (Przyborowski and Wilenski 1940). Fewer than four units show no
 * spread of their own: they count as alike.
 *
 * @param ratio empty where the second group had no event
 * @param low 0 where the first group had no event; empty where nobody had one
 * @param high empty where the second group had no event: no upper limit
 * @param pValue two-sided; 1 where nothing is known
 * @param spread the squared coefficient of variation a
 */
public record RateRatio(OptionalDouble ratio, OptionalDouble low, OptionalDouble high, double pValue, double spread) {
    private static final BrentSolver SOLVER = new BrentSolver(1e-13, 1e-13, 1e-15);
    private static final int UNITS_FOR_A_SPREAD = 4;
    private static final double LARGEST_CORRELATION = 0.999;

    /** Units of one group; those without exposure tell nothing. */
    public record Group(double[] events, double[] exposures) {
        public Group {
            Require.that(events.length == exposures.length, "each unit needs events and exposure, there were %s and %s", events.length,
                    exposures.length);
            for (int i = 0; i < events.length; i++) {
                Require.that(events[i] >= 0 && events[i] == Math.rint(events[i]), "events must be whole and 0 or more, was %s", events[i]);
                Require.that(exposures[i] >= 0 && Double.isFinite(exposures[i]), "exposure must be 0 or more, was %s", exposures[i]);
                Require.that(exposures[i] > 0 || events[i] == 0, "events without exposure are a missing meter, not an infinite rate");
            }
        }

        private double total() {
            return Arrays.stream(events).sum();
        }

        private double exposure() {
            return Arrays.stream(exposures).sum();
        }

        private double squares() {
            return Arrays.stream(exposures).map(e -> e * e).sum();
        }
    }

    /** Of groups whose units may differ. */
    public static RateRatio of(Group first, Group second, double confidenceLevel) {
        Require.that(confidenceLevel > 0 && confidenceLevel < 1, "confidenceLevel must be between 0 and 1, was %s", confidenceLevel);
        double events = first.total() + second.total();
        Require.that(events <= Integer.MAX_VALUE, "all events together must be at most 2^31-1, were %s", events);
        if (events == 0 || !(first.exposure() > 0 && second.exposure() > 0)) {
            return new RateRatio(OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty(), 1, 0);
        }
        double spread = spread(first, second);
        double share = first.exposure() / (first.exposure() + second.exposure());
        Shares shares = new Shares((int) events, (int) first.total(), correlation(first, second, spread, share));
        double exposures = first.exposure() / second.exposure();
        double tail = (1 - confidenceLevel) / 2;
        double guess = Math.log((first.total() + 0.5) / (second.total() + 0.5)) - Math.log(exposures);
        OptionalDouble low = first.total() == 0
                ? OptionalDouble.of(0)
                : OptionalDouble.of(Math.exp(root(log -> shares.atLeast(share(Math.exp(log) * exposures)) - tail, guess)));
        OptionalDouble high = second.total() == 0
                ? OptionalDouble.empty()
                : OptionalDouble.of(Math.exp(root(log -> tail - shares.atMost(share(Math.exp(log) * exposures)), guess)));
        OptionalDouble ratio = second.total() == 0 ? OptionalDouble.empty() : OptionalDouble.of(first.total() / second.total() / exposures);
        return new RateRatio(ratio, low, high, Math.min(1, 2 * Math.min(shares.atLeast(share), shares.atMost(share))), spread);
    }

    private static double share(double odds) {
        return odds / (1 + odds);
    }

    private static double spread(Group first, Group second) {
        double squares = 0;
        double means = 0;
        double meanSquares = 0;
        int n = 0;
        for (Group group : new Group[]{first, second}) {
            double rate = group.total() / group.exposure();
            for (int i = 0; i < group.events.length; i++) {
                double mean = rate * group.exposures[i];
                squares += (group.events[i] - mean) * (group.events[i] - mean);
                means += mean;
                meanSquares += mean * mean;
                n += group.exposures[i] > 0 ? 1 : 0;
            }
        }
        return n < UNITS_FOR_A_SPREAD ? 0 : Math.max(0, (squares * n / (n - 2) - means) / meanSquares);
    }

    private static double correlation(Group first, Group second, double spread, double share) {
        double events = first.total() + second.total();
        if (events < 2 || spread == 0) {
            return 0;
        }
        double rate = events / (first.exposure() + second.exposure());
        double extra = spread * rate * rate * ((1 - share) * (1 - share) * first.squares() + share * share * second.squares());
        return Math.min(LARGEST_CORRELATION, extra / (events * (events - 1) * share * (1 - share)));
    }

    /** The root of a rising function of a logarithm, bracketed outward from a guess. */
    private static double root(DoubleUnaryOperator rising, double guess) {
        double low = guess - 1;
        double high = guess + 1;
        while (rising.applyAsDouble(low) > 0 && low > -700) {
            low -= 1 + (guess - low);
        }
        while (rising.applyAsDouble(high) < 0 && high < 700) {
            high += 1 + (high - guess);
        }
        return SOLVER.findRoot(rising, low, high);
    }

    /** The law of the first group's part of n events. */
    private record Shares(int n, int first, double correlation) {
        double atLeast(double share) {
            return correlation == 0 ? BinomialDistribution.of(n, share).survivalProbability(first - 1) : summed(share, false);
        }

        double atMost(double share) {
            return correlation == 0 ? BinomialDistribution.of(n, share).cumulativeProbability(first) : summed(share, true);
        }

        /** Terms of the beta-binomial law as multiples of the one at its mean, from there outward: P(k+1)/P(k) = (n-k)/(k+1) (a+k)/(b+n-k-1). */
        private double summed(double share, boolean below) {
            double a = share * (1 - correlation) / correlation;
            double b = (1 - share) * (1 - correlation) / correlation;
            boolean oneHump = a >= 1 && b >= 1;
            int start = (int) Math.min(n, Math.round(n * share));
            double wanted = 0;
            double all = 0;
            double term = 1;
            for (int k = start; k <= n && !(oneHump && term < 1e-25); k++) {
                all += term;
                wanted += (below ? k <= first : k >= first) ? term : 0;
                term *= (double) (n - k) / (k + 1) * ((a + k) / (b + n - k - 1));
            }
            term = 1;
            for (int k = start; k > 0 && !(oneHump && term < 1e-25); k--) {
                term *= (double) k / (n - k + 1) * ((b + n - k) / (a + k - 1));
                all += term;
                wanted += (below ? k - 1 <= first : k - 1 >= first) ? term : 0;
            }
            return wanted / all;
        }
    }
}
