package comebackledger.fleet;

import comebackledger.stat.Multiplicity;
import comebackledger.stat.RatePrior;
import java.util.Arrays;
import java.util.Optional;
import org.apache.commons.numbers.gamma.Digamma;
import org.apache.commons.numbers.gamma.RegularizedBeta;
import org.apache.commons.numbers.gamma.Trigamma;
import org.apache.commons.numbers.rootfinder.BrentSolver;
import org.apache.commons.statistics.distribution.GammaDistribution;

/**
 * The return rates of units beside each other's. A unit's rate is the product of how often it fails afresh and of how many returns each failure breeds;
 * what is fresh comes by a Poisson law, what returns does not. Where the counts are likelier if returns come by a rate of their own, whatever was fresh,
 * that law is taken instead: gamma, fitted to the returns.
 * <pre>
 *   f ~ gamma, fitted to all units' fresh episodes ({@link RatePrior})     f | data ~ gamma(shape + F, rate + e)
 *   m = p/(1-p), p ~ beta, fitted to all units ({@link Breeding})           p | data ~ beta(a + R, b + F)
 *   rate = f m:  mean  (shape+F)/(rate+e) (a+R)/(b+F-1)
 *                law   gamma with E ln(f m) and V = var ln(f m) = psi'(shape+F) + psi'(a+R) + psi'(b+F): exact where m is the same for all
 *   worst = P(rate > g | data), g where the laws of all units together leave the worst share above
 *   p-value = the larger of I(e share; y, total - y + 1), y = R over the {@link Clusters} factor, and P(rate at most the peers' mean | data)
 * </pre>
 * The first p is the binomial tail P(Y >= y) at the unit's share of all exposure, run on to y that is not whole, as a quasi-likelihood does (McCullagh
 * and Nelder 1989, chapter 9). It alone calls a unit for one long chain; the second alone leans on the fitted laws.
 */
final class ReturnRates {
    private static final double CREDIBLE_TAIL = 0.025;
    /** Where the units' own spread cannot be told: one that spreads rates as widely as the mean; common practice, no source. */
    private static final double WEAK_SHAPE = 1;

    /** Of one unit. */
    record Count(double returns, double fresh, double exposure) {}

    private final Count[] counts;
    private final double factor;
    private final RatePrior prior;
    private final Optional<String> priorAbsent;
    private final Breeding breeding;
    private final Optional<RatePrior> ownRate;
    private final GammaDistribution[] laws;
    private final double threshold;

    ReturnRates(Count[] counts, double factor, double worstShare) {
        this.counts = counts;
        this.factor = factor;
        double[] fresh = Arrays.stream(counts).mapToDouble(Count::fresh).toArray();
        double[] exposures = Arrays.stream(counts).mapToDouble(Count::exposure).toArray();
        RatePrior.Fit fit = RatePrior.fit(fresh, exposures);
        this.priorAbsent = fit.absent();
        this.prior = fit.prior().orElseGet(() -> weak(fresh, exposures));
        double[] returns = Arrays.stream(counts).mapToDouble(Count::returns).toArray();
        this.breeding = Breeding.fit(returns, fresh);
        this.ownRate = RatePrior.fit(returns, exposures).prior()
                .filter(own -> Likelihoods.ofOwnRate(own, counts) > Likelihoods.ofBreeding(breeding, counts));
        this.laws = new GammaDistribution[counts.length];
        Arrays.setAll(laws, i -> law(counts[i]));
        this.threshold = threshold(worstShare);
    }

    private static RatePrior weak(double[] events, double[] exposures) {
        // No event at all: half of one, the mean that the reference prior of a Poisson rate gives.
        double mean = Math.max(0.5, Arrays.stream(events).sum()) / Math.max(Double.MIN_NORMAL, Arrays.stream(exposures).sum());
        return new RatePrior(WEAK_SHAPE, WEAK_SHAPE / mean);
    }

    private GammaDistribution law(Count count) {
        return ownRate.map(own -> own.posterior(count.returns(), count.exposure())).orElseGet(() -> product(count));
    }

    private GammaDistribution product(Count count) {
        double shape = prior.shape() + count.fresh();
        double rate = prior.rate() + count.exposure();
        if (breeding.weight().isEmpty()) {
            return GammaDistribution.of(shape, breeding.mean() / rate);
        }
        double weight = breeding.weight().get();
        double a = breeding.mean() * weight + count.returns();
        double b = 1 + weight + count.fresh();
        double spread = Trigamma.value(shape) + Trigamma.value(a) + Trigamma.value(b);
        double matched = shapeOfSpread(spread);
        double logMean = Digamma.value(shape) - Math.log(rate) + Digamma.value(a) - Digamma.value(b);
        return GammaDistribution.of(matched, Math.exp(logMean - Digamma.value(matched)));
    }

    /** The shape whose trigamma is this: Newton steps on 1/trigamma, which is nearly straight, from below (1/x is below trigamma). */
    private static double shapeOfSpread(double spread) {
        double shape = Math.max(1 / spread, 1e-3);
        for (int step = 0; step < 50; step++) {
            double value = Trigamma.value(shape);
            double nearby = Trigamma.value(shape * (1 + 1e-6));
            double change = (1 / spread - 1 / value) / ((1 / nearby - 1 / value) / (shape * 1e-6));
            shape = Math.max(shape / 4, shape + change);
            if (Math.abs(change) < 1e-9 * shape) {
                break;
            }
        }
        return shape;
    }

    /** The rate that the worst share of all laws together lies above. */
    private double threshold(double worstShare) {
        double low = Math.log(peersMean()) - 1;
        double high = low + 2;
        while (shareAbove(Math.exp(low)) < worstShare && low > -500) {
            low -= 2;
        }
        while (shareAbove(Math.exp(high)) > worstShare && high < 500) {
            high += 2;
        }
        return Math.exp(new BrentSolver(1e-6, 1e-6, 1e-12).findRoot(log -> shareAbove(Math.exp(log)) - worstShare, low, high));
    }

    private double shareAbove(double rate) {
        double sum = 0;
        for (GammaDistribution law : laws) {
            sum += law.survivalProbability(rate);
        }
        return sum / laws.length;
    }

    /** Why the spread of the units' rates could not be told, and a weak prior stands in. */
    Optional<String> priorAbsent() {
        return priorAbsent;
    }

    double peersMean() {
        return ownRate.map(RatePrior::mean).orElse(prior.mean() * breeding.mean());
    }

    double crude(int i) {
        return counts[i].returns() / counts[i].exposure();
    }

    double mean(int i) {
        if (ownRate.isPresent()) {
            return ownRate.get().posteriorMean(counts[i].returns(), counts[i].exposure());
        }
        double fresh = prior.posteriorMean(counts[i].fresh(), counts[i].exposure());
        return breeding.weight().map(weight -> fresh * (breeding.mean() * weight + counts[i].returns()) / (weight + counts[i].fresh()))
                .orElse(fresh * breeding.mean());
    }

    double low(int i) {
        return laws[i].inverseCumulativeProbability(CREDIBLE_TAIL);
    }

    double high(int i) {
        return laws[i].inverseSurvivalProbability(CREDIBLE_TAIL);
    }

    double probabilityWorst(int i) {
        return laws[i].survivalProbability(threshold);
    }

    double probabilityAbovePeers(int i) {
        return laws[i].survivalProbability(peersMean());
    }

    double[] qValues() {
        double total = Arrays.stream(counts).mapToDouble(Count::returns).sum() / factor;
        double exposure = Arrays.stream(counts).mapToDouble(Count::exposure).sum();
        double[] p = new double[counts.length];
        for (int i = 0; i < p.length; i++) {
            double y = counts[i].returns() / factor;
            double tail = y == 0 ? 1 : RegularizedBeta.value(Math.min(1, counts[i].exposure() / exposure), y, Math.max(0, total - y) + 1);
            p[i] = Math.max(tail, laws[i].cumulativeProbability(peersMean()));
        }
        return Multiplicity.benjaminiHochberg(p);
    }
}
