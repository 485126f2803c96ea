package comebackledger.stat;

import comebackledger.Require;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.numbers.rootfinder.BrentSolver;
import org.apache.commons.statistics.distribution.BinomialDistribution;
import org.apache.commons.statistics.distribution.GammaDistribution;

/**
 * The rates of units beside each other's: each shrunk toward its peers by the prior that the peers teach ({@link RatePrior}).
 * <pre>
 *   probabilityAbove = P(rate > factor x prior mean | data)
 *   probabilityWorst = P(rate > g | data), g where the posterior laws of all units together leave the worst share above
 *   pValue           = P(X >= events), X binomial(all events, own share of the exposure): exact, one-sided, this unit against all
 * </pre>
 * Ranking by probabilityWorst makes the fewest wrong picks at that share (Lin, Louis, Paddock and Ridgeway 2006, doi 10.1214/06-BA130).
 */
public record RateComparison(RatePrior.Fit prior, List<Unit> units) {
    private static final double CREDIBLE_TAIL = 0.025;
    /** Rates are searched between exp(-700) and exp(700), the range of numbers. */
    private static final double LARGEST_LOG = 700;

    /** A unit's count over its exposure. */
    public record Count(String id, double events, double exposure) {
        public Count {
            Require.that(events >= 0 && events == Math.rint(events) && events <= 1e9, "events must be whole and 0 or more, was %s", events);
            Require.that(exposure >= 0 && Double.isFinite(exposure), "exposure must be 0 or more, was %s", exposure);
            Require.that(exposure > 0 || events == 0, "events without exposure are a missing meter, not an infinite rate");
        }
    }

    /** What is told of one unit; empty where theory gives no figure. */
    public record Unit(String id, Optional<PoissonInterval> crude, OptionalDouble posteriorMean, OptionalDouble low, OptionalDouble high,
            OptionalDouble probabilityAbove, OptionalDouble probabilityWorst, OptionalDouble pValue, OptionalDouble qValue) {
        private Unit tested(double p, double q) {
            return new Unit(id, crude, posteriorMean, low, high, probabilityAbove, probabilityWorst, OptionalDouble.of(p), OptionalDouble.of(q));
        }
    }

    /** @throws IllegalArgumentException if all events together are more than 2^31-1 */
    public static RateComparison of(List<Count> counts, double factor, double worstShare) {
        double[] events = counts.stream().mapToDouble(Count::events).toArray();
        double[] exposures = counts.stream().mapToDouble(Count::exposure).toArray();
        RatePrior.Fit fit = RatePrior.fit(events, exposures);
        OptionalDouble threshold = fit.prior().isPresent()
                ? worstThreshold(fit.prior().get(), events, exposures, worstShare)
                : OptionalDouble.empty();
        double[] p = pValues(events, exposures);
        double[] q = Multiplicity.benjaminiHochberg(p);
        List<Unit> units = new ArrayList<>(counts.size());
        int tested = 0;
        for (Count count : counts) {
            Unit unit = unit(count, fit, factor, threshold);
            units.add(count.exposure() > 0 ? unit.tested(p[tested], q[tested++]) : unit);
        }
        return new RateComparison(fit, List.copyOf(units));
    }

    private static Unit unit(Count count, RatePrior.Fit fit, double factor, OptionalDouble threshold) {
        Optional<PoissonInterval> crude = count.exposure() > 0
                ? Optional.of(PoissonInterval.of(count.events(), count.exposure(), 1 - 2 * CREDIBLE_TAIL))
                : Optional.empty();
        OptionalDouble none = OptionalDouble.empty();
        if (fit.prior().isEmpty()) {
            // One rate for all: no unit's lies above it.
            OptionalDouble above = fit.oneRate().isPresent() ? OptionalDouble.of(factor >= 1 ? 0 : 1) : none;
            return new Unit(count.id(), crude, fit.oneRate(), none, none, above, none, none, none);
        }
        RatePrior prior = fit.prior().get();
        GammaDistribution posterior = prior.posterior(count.events(), count.exposure());
        return new Unit(count.id(), crude, OptionalDouble.of(prior.posteriorMean(count.events(), count.exposure())),
                OptionalDouble.of(posterior.inverseCumulativeProbability(CREDIBLE_TAIL)),
                OptionalDouble.of(posterior.inverseSurvivalProbability(CREDIBLE_TAIL)),
                OptionalDouble.of(posterior.survivalProbability(factor * prior.mean())),
                threshold.isPresent() ? OptionalDouble.of(posterior.survivalProbability(threshold.getAsDouble())) : none, none, none);
    }

    /** One-sided exact p-values of the units with exposure, in their order. */
    private static double[] pValues(double[] events, double[] exposures) {
        double total = Arrays.stream(events).sum();
        double exposure = Arrays.stream(exposures).sum();
        Require.that(total <= Integer.MAX_VALUE, "all events together must be at most 2^31-1, were %s", total);
        double[] p = new double[(int) Arrays.stream(exposures).filter(value -> value > 0).count()];
        int next = 0;
        for (int i = 0; i < events.length; i++) {
            if (exposures[i] > 0) {
                p[next++] = events[i] == 0
                        ? 1
                        : BinomialDistribution.of((int) total, Math.min(1, exposures[i] / exposure)).survivalProbability((int) events[i] - 1);
            }
        }
        return p;
    }

    /** The rate that the worst share of the ensemble of posterior laws lies above. */
    public static OptionalDouble worstThreshold(RatePrior prior, double[] events, double[] exposures, double worstShare) {
        if (events.length == 0) {
            return OptionalDouble.empty();
        }
        GammaDistribution[] posteriors = new GammaDistribution[events.length];
        Arrays.setAll(posteriors, i -> prior.posterior(events[i], exposures[i]));
        double low = Math.log(prior.mean()) - 1;
        double high = Math.log(prior.mean()) + 1;
        while (shareAbove(posteriors, Math.exp(low)) < worstShare) {
            if (low < -LARGEST_LOG) {
                return OptionalDouble.of(Math.exp(low)); // nearly all the laws' mass lies at 0
            }
            low -= 2;
        }
        while (shareAbove(posteriors, Math.exp(high)) > worstShare) {
            if (high > LARGEST_LOG) {
                return OptionalDouble.of(Math.exp(high));
            }
            high += 2;
        }
        double root = new BrentSolver(1e-9, 1e-9, 1e-12).findRoot(log -> shareAbove(posteriors, Math.exp(log)) - worstShare, low, high);
        return OptionalDouble.of(Math.exp(root));
    }

    private static double shareAbove(GammaDistribution[] posteriors, double rate) {
        double sum = 0;
        for (GammaDistribution posterior : posteriors) {
            sum += posterior.survivalProbability(rate);
        }
        return sum / posteriors.length;
    }
}
