package comebackledger.stat;

import comebackledger.Require;
import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.numbers.gamma.Digamma;
import org.apache.commons.numbers.rootfinder.BrentSolver;
import org.apache.commons.statistics.distribution.GammaDistribution;

/**
 * How the rates of a population are spread: a gamma law, fitted by maximum likelihood of the marginal negative binomial, and what it makes of one unit:
 * <pre>
 *   rate ~ gamma(shape, rate)      events | exposure ~ Poisson(rate exposure)      posterior ~ gamma(shape + events, rate + exposure)
 * </pre>
 *
 * @param shape dimensionless; @param rate in the unit of exposure
 */
public record RatePrior(double shape, double rate) {
    private static final int LARGEST_COUNT_TABLED = 200_000;
    private static final String TOO_FAR_APART = "the exposures lie too far apart for a number: no prior can be estimated";
    private static final BrentSolver SOLVER = new BrentSolver(1e-14, 1e-13, 1e-15);

    public RatePrior {
        Require.that(shape > 0 && Double.isFinite(shape), "shape must be above 0, was %s", shape);
        Require.that(rate > 0 && Double.isFinite(rate), "rate must be above 0, was %s", rate);
    }

    public double mean() {
        return shape / rate;
    }

    /** What events over an exposure make of it. */
    public GammaDistribution posterior(double events, double exposure) {
        return GammaDistribution.of(shape + events, 1 / (rate + exposure));
    }

    public double posteriorMean(double events, double exposure) {
        return (shape + events) / (rate + exposure);
    }

    /**
     * A fitted prior, or why there is none.
     *
     * @param oneRate the rate of all, where they differ no more than chance
     */
    public record Fit(Optional<RatePrior> prior, Optional<String> absent, OptionalDouble oneRate) {
        private static Fit absent(String why) {
            return new Fit(Optional.empty(), Optional.of(why), OptionalDouble.empty());
        }

        private static Fit alike(double rate) {
            return new Fit(Optional.empty(),
                    Optional.of("the units differ no more than chance: the maximum likelihood shape is unbounded; pooled rate " + rate),
                    OptionalDouble.of(rate));
        }
    }

    /**
     * Fits the prior to units with exposure; those without bring no information.
     *
     * @throws IllegalArgumentException if events are not whole: the likelihood is that of counts
     */
    public static Fit fit(double[] events, double[] exposures) {
        int n = 0;
        double[] x = new double[events.length];
        double[] e = new double[events.length];
        for (int i = 0; i < events.length; i++) {
            Require.that(events[i] >= 0 && events[i] == Math.rint(events[i]), "events must be whole and 0 or more, was %s", events[i]);
            if (exposures[i] > 0) {
                x[n] = events[i];
                e[n++] = exposures[i];
            }
        }
        return new Likelihood(Arrays.copyOf(x, n), Arrays.copyOf(e, n)).fit();
    }

    /** The likelihood of the counts; its derivatives need no special function where counts are small. */
    private static final class Likelihood {
        private final double[] x;
        private final double[] e;
        private final double total;
        private final double exposure;
        private double lastMean;
        private final double[] withMoreThan;

        Likelihood(double[] x, double[] e) {
            this.x = x;
            this.e = e;
            this.total = Arrays.stream(x).sum();
            this.exposure = Arrays.stream(e).sum();
            this.lastMean = total / exposure;
            double most = Arrays.stream(x).max().orElse(0);
            this.withMoreThan = most <= LARGEST_COUNT_TABLED ? counts(x, (int) most) : new double[0];
        }

        private static double[] counts(double[] x, int most) {
            double[] counts = new double[most];
            for (double value : x) {
                if (value > 0) {
                    counts[(int) value - 1]++;
                }
            }
            for (int i = most - 2; i >= 0; i--) {
                counts[i] += counts[i + 1];
            }
            return counts;
        }

        Fit fit() {
            if (x.length < 2) {
                return Fit.absent(x.length == 1 ? "one unit has no peers" : "no unit has exposure");
            }
            if (total == 0) {
                return Fit.absent("no event: no prior can be estimated");
            }
            double pooled = total / exposure;
            double excess = 0;
            for (int i = 0; i < x.length; i++) {
                double expected = pooled * e[i];
                excess += (x[i] - expected) * (x[i] - expected) - x[i];
            }
            // The likelihood's slope toward equal rates: at or below 0 the units differ no more than chance.
            if (excess <= 1e-9 * total) {
                return Fit.alike(pooled);
            }
            double low = 0;
            double high = 0;
            while (slope(Math.exp(low)) < 0 && low > -40) {
                low -= 2;
            }
            while (slope(Math.exp(high)) > 0 && high < 40) {
                high += 2;
            }
            if (low <= -40 || high >= 40) {
                return Fit.alike(pooled);
            }
            if (!(slope(Math.exp(low)) >= 0 && slope(Math.exp(high)) <= 0)) {
                return Fit.absent(TOO_FAR_APART);
            }
            double shape = Math.exp(low == 0 && high == 0 ? 0 : SOLVER.findRoot(logShape -> slope(Math.exp(logShape)), low, high));
            double rate = shape / mean(shape);
            return rate > 0 && Double.isFinite(rate)
                    ? new Fit(Optional.of(new RatePrior(shape, rate)), Optional.empty(), OptionalDouble.empty())
                    : Fit.absent(TOO_FAR_APART);
        }

        /**
         * The mean rate that is likeliest with a shape: the root of sum x/mean - (a+x)e/(a+mean e), by Newton steps on its logarithm from the last one
         * asked for. A step doubles the digits, so that after one below 1e-8 none are left to win.
         */
        private double mean(double shape) {
            double mean = mean(shape, lastMean);
            // From far off a step may leave what a double can hold.
            lastMean = mean > 0 && Double.isFinite(mean) ? mean : mean(shape, total / exposure);
            return lastMean;
        }

        private double mean(double shape, double from) {
            double mean = from;
            for (int step = 0; step < 200; step++) {
                double value = 0;
                double slope = 0;
                for (int i = 0; i < x.length; i++) {
                    double scaled = mean * e[i];
                    double each = 1 / (shape + scaled);
                    double share = (shape + x[i]) * scaled * each;
                    value += x[i] - share;
                    slope -= share * shape * each;
                }
                double change = -value / slope;
                mean *= Math.exp(Math.max(-2, Math.min(2, change)));
                if (Math.abs(change) < 1e-8) {
                    break;
                }
            }
            return mean;
        }

        /** The derivative of the profile likelihood by the shape. */
        private double slope(double shape) {
            double mean = mean(shape);
            double sum = digammaRises(shape);
            // A logarithm of products: one for many units instead of one each.
            double product = 1;
            for (int i = 0; i < x.length; i++) {
                double kept = shape + mean * e[i];
                double growth = kept / shape;
                if (growth > 1e100) {
                    sum -= Math.log(growth);
                } else {
                    product *= growth;
                }
                if (product > 1e200) {
                    sum -= Math.log(product);
                    product = 1;
                }
                sum += 1 - (shape + x[i]) / kept;
            }
            return sum - Math.log(product);
        }

        /** Sum over units of digamma(a+x) - digamma(a), as sum over k below x of 1/(a+k). */
        private double digammaRises(double shape) {
            double sum = 0;
            if (withMoreThan.length > 0 || total == 0) {
                for (int k = 0; k < withMoreThan.length; k++) {
                    sum += withMoreThan[k] / (shape + k);
                }
                return sum;
            }
            for (double value : x) {
                sum += Digamma.value(shape + value) - Digamma.value(shape);
            }
            return sum;
        }
    }
}
