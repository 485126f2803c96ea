package comebackledger.fleet;

import comebackledger.stat.Multiplicity;
import comebackledger.stat.RatePrior;
import java.util.Arrays;
import java.util.Optional;
import org.apache.commons.numbers.gamma.Digamma;
import org.apache.commons.numbers.gamma.RegularizedBeta;
import org.apache.commons.numbers.gamma.RegularizedGamma;
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

    /** From so many units of one kind on, a table of its law costs less than asking for each. */
    private static final int WORTH_A_TABLE = 200;
    private static final double THRESHOLD_TOLERANCE = 1e-10;

    private final Counted counted;
    private final double factor;
    private final RatePrior prior;
    private final Optional<String> priorAbsent;
    private final Breeding breeding;
    private final Optional<RatePrior> ownRate;
    private final double[] shapes;
    private final double[] factors;
    private final Optional<GammaTail>[] tails;
    private final double threshold;

    /** @param factor of the {@link Clusters} */
    @SuppressWarnings({"unchecked", "rawtypes"}) // an array of optionals
    ReturnRates(Counted counted, double factor, double worstShare) {
        this.counted = counted;
        this.factor = factor;
        RatePrior.Fit fit = RatePrior.fit(counted.fresh(), counted.exposures());
        this.priorAbsent = fit.absent();
        this.prior = fit.prior().orElseGet(() -> weak(counted.fresh(), counted.exposures()));
        this.breeding = Breeding.fit(counted);
        this.ownRate = RatePrior.fit(counted.returns(), counted.exposures()).prior()
                .filter(own -> Likelihoods.ofOwnRate(own, counted) > Likelihoods.ofBreeding(breeding, counted));
        this.shapes = new double[counted.kinds()];
        this.factors = new double[counted.kinds()];
        this.tails = new Optional[counted.kinds()];
        for (int kind = 0; kind < counted.kinds(); kind++) {
            law(kind);
            boolean tabled = counted.kindUnits(kind) >= WORTH_A_TABLE && shapes[kind] <= GammaTail.LARGEST_SHAPE;
            tails[kind] = tabled ? Optional.of(new GammaTail(shapes[kind])) : Optional.empty();
        }
        this.threshold = threshold(worstShare);
    }

    private static RatePrior weak(double[] events, double[] exposures) {
        // No event at all: half of one, the mean that the reference prior of a Poisson rate gives.
        double mean = Math.max(0.5, Arrays.stream(events).sum()) / Math.max(Double.MIN_NORMAL, Arrays.stream(exposures).sum());
        return new RatePrior(WEAK_SHAPE, WEAK_SHAPE / mean);
    }

    /** The law of a unit is gamma: its kind's shape, and its kind's factor over {@link #rate}. */
    private void law(int kind) {
        double returns = counted.kindReturns(kind);
        double fresh = prior.shape() + counted.kindFresh(kind);
        if (ownRate.isPresent()) {
            shapes[kind] = ownRate.get().shape() + returns;
            factors[kind] = 1;
        } else if (breeding.weight().isEmpty()) {
            shapes[kind] = fresh;
            factors[kind] = breeding.mean();
        } else {
            double weight = breeding.weight().get();
            double a = breeding.mean() * weight + returns;
            double b = 1 + weight + counted.kindFresh(kind);
            shapes[kind] = shapeOfSpread(Trigamma.value(fresh) + Trigamma.value(a) + Trigamma.value(b));
            factors[kind] = Math.exp(Digamma.value(fresh) + Digamma.value(a) - Digamma.value(b) - Digamma.value(shapes[kind]));
        }
    }

    private double rate(int i) {
        return ownRate.orElse(prior).rate() + counted.exposure(i);
    }

    private GammaDistribution lawOf(int i) {
        return GammaDistribution.of(shapes[counted.kindOf(i)], factors[counted.kindOf(i)] / rate(i));
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
        return Math.exp(
                new BrentSolver(THRESHOLD_TOLERANCE, THRESHOLD_TOLERANCE, 1e-15).findRoot(log -> shareAbove(Math.exp(log)) - worstShare, low, high));
    }

    private double shareAbove(double rate) {
        double sum = 0;
        for (int i = 0; i < counted.units(); i++) {
            sum += nearlyAbove(i, rate);
        }
        return sum / counted.units();
    }

    /** To within {@link GammaTail#ERROR}. */
    private double nearlyAbove(int i, double rate) {
        int kind = counted.kindOf(i);
        double x = rate * rate(i) / factors[kind];
        Optional<GammaTail> tail = tails[kind];
        return tail.isPresent() ? tail.get().at(x) : RegularizedGamma.Q.value(shapes[kind], x);
    }

    /** Why the spread of the units' rates could not be told, and a weak prior stands in. */
    Optional<String> priorAbsent() {
        return priorAbsent;
    }

    int units() {
        return counted.units();
    }

    double peersMean() {
        return ownRate.map(RatePrior::mean).orElse(prior.mean() * breeding.mean());
    }

    double crude(int i) {
        return counted.returns(i) / counted.exposure(i);
    }

    double mean(int i) {
        if (ownRate.isPresent()) {
            return ownRate.get().posteriorMean(counted.returns(i), counted.exposure(i));
        }
        double fresh = prior.posteriorMean(counted.fresh(i), counted.exposure(i));
        return breeding.weight().map(weight -> fresh * (breeding.mean() * weight + counted.returns(i)) / (weight + counted.fresh(i)))
                .orElse(fresh * breeding.mean());
    }

    double low(int i) {
        return lawOf(i).inverseCumulativeProbability(CREDIBLE_TAIL);
    }

    double high(int i) {
        return lawOf(i).inverseSurvivalProbability(CREDIBLE_TAIL);
    }

    double probabilityWorst(int i) {
        return lawOf(i).survivalProbability(threshold);
    }

    /** To within {@link GammaTail#ERROR}, at a tenth of the cost. */
    double nearlyProbabilityWorst(int i) {
        return nearlyAbove(i, threshold);
    }

    double probabilityAbovePeers(int i) {
        return lawOf(i).survivalProbability(peersMean());
    }

    double[] qValues() {
        double total = Arrays.stream(counted.returns()).sum() / factor;
        double exposure = Arrays.stream(counted.exposures()).sum();
        double peers = peersMean();
        double[] p = new double[counted.units()];
        for (int i = 0; i < p.length; i++) {
            double y = counted.returns(i) / factor;
            // Without a return the first is 1, and none is larger.
            p[i] = y == 0
                    ? 1
                    : Math.max(RegularizedBeta.value(Math.min(1, counted.exposure(i) / exposure), y, Math.max(0, total - y) + 1),
                            lawOf(i).cumulativeProbability(peers));
        }
        return Multiplicity.benjaminiHochberg(p);
    }
}
