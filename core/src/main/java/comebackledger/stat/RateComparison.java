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
            OptionalDouble probabilityAbove, OptionalDouble probabilityWorst, OptionalDouble pValue, OptionalDouble qValue) {}

    public static RateComparison of(List<Count> counts, double factor, double worstShare) {
        double[] events = counts.stream().mapToDouble(Count::events).toArray();
        double[] exposures = counts.stream().mapToDouble(Count::exposure).toArray();
        RatePrior.Fit fit = RatePrior.fit(events, exposures);
        double[] p = pValues(events, exposures);
        double[] told = Arrays.stream(p).filter(value -> value <= 1).toArray();
        double[] adjusted = Multiplicity.benjaminiHochberg(told);
        OptionalDouble threshold = fit.prior().isPresent()
                ? worstThreshold(fit.prior().get(), events, exposures, worstShare)
                : OptionalDouble.empty();
        double pooled = Arrays.stream(events).sum() / Math.max(Arrays.stream(exposures).sum(), Double.MIN_NORMAL);
        List<Unit> units = new ArrayList<>(counts.size());
        int next = 0;
        for (int i = 0; i < p.length; i++) {
            boolean known = p[i] <= 1;
            OptionalDouble pValue = known ? OptionalDouble.of(p[i]) : OptionalDouble.empty();
            OptionalDouble qValue = known ? OptionalDouble.of(adjusted[next++]) : OptionalDouble.empty();
            units.add(unit(counts.get(i), fit, pooled, factor, threshold, pValue, qValue, Arrays.stream(events).anyMatch(value -> value > 0)));
        }
        return new RateComparison(fit, List.copyOf(units));
    }

    private static Unit unit(Count count, RatePrior.Fit fit, double pooled, double factor, OptionalDouble threshold, OptionalDouble pValue,
            OptionalDouble qValue, boolean anyEvent) {
        Optional<PoissonInterval> crude = count.exposure() > 0
                ? Optional.of(PoissonInterval.of(count.events(), count.exposure(), 1 - 2 * CREDIBLE_TAIL))
                : Optional.empty();
        if (fit.prior().isPresent()) {
            GammaDistribution posterior = fit.prior().get().posterior(count.events(), count.exposure());
            return new Unit(count.id(), crude, OptionalDouble.of(fit.prior().get().posteriorMean(count.events(), count.exposure())),
                    OptionalDouble.of(posterior.inverseCumulativeProbability(CREDIBLE_TAIL)),
                    OptionalDouble.of(posterior.inverseSurvivalProbability(CREDIBLE_TAIL)),
                    OptionalDouble.of(posterior.survivalProbability(factor * fit.prior().get().mean())),
                    threshold.isPresent() ? OptionalDouble.of(posterior.survivalProbability(threshold.getAsDouble())) : OptionalDouble.empty(),
                    pValue, qValue);
        }
        boolean alike = anyEvent && fit.absent().filter(why -> why.startsWith("the units differ")).isPresent();
        return new Unit(count.id(), crude, alike ? OptionalDouble.of(pooled) : OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty(),
                alike ? OptionalDouble.of(factor > 1 ? 0 : 1) : OptionalDouble.empty(), OptionalDouble.empty(), pValue, qValue);
    }

    /** One-sided exact p-values; 2 marks a unit without exposure. */
    public static double[] pValues(double[] events, double[] exposures) {
        double total = Arrays.stream(events).sum();
        double exposure = Arrays.stream(exposures).sum();
        double[] p = new double[events.length];
        for (int i = 0; i < p.length; i++) {
            if (!(exposures[i] > 0)) {
                p[i] = 2;
            } else if (events[i] == 0) {
                p[i] = 1;
            } else {
                p[i] = BinomialDistribution.of((int) total, Math.min(1, exposures[i] / exposure)).survivalProbability((int) events[i] - 1);
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
        while (shareAbove(posteriors, Math.exp(low)) < worstShare && low > -500) {
            low -= 2;
        }
        while (shareAbove(posteriors, Math.exp(high)) > worstShare && high < 500) {
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
