package comebackledger.fleet;

import comebackledger.fleet.ReturnRates.Count;
import comebackledger.stat.RatePrior;
import org.apache.commons.numbers.gamma.LogBeta;
import org.apache.commons.numbers.gamma.LogGamma;

/**
 * How likely the units' returns are under two laws, each with two numbers fitted to them; the larger tells how returns come about.
 * <pre>
 *   bred by fresh episodes   C(R+F-1, R) B(a+R, b+F)/B(a, b)        a rate of their own   C(R+s-1, R) (r/(r+e))^s (e/(r+e))^R
 * </pre>
 */
final class Likelihoods {
    /** Returns without anything fresh are hardly possible, yet a meter read late leaves some: they count as bred by this much. */
    private static final double HARDLY_FRESH = 0.1;

    private Likelihoods() {}

    static double ofBreeding(Breeding breeding, Count[] counts) {
        double sum = 0;
        for (Count count : counts) {
            double fresh = Math.max(HARDLY_FRESH, count.fresh());
            sum += choices(count.returns(), fresh) + logShare(breeding, count.returns(), fresh);
        }
        return sum;
    }

    private static double logShare(Breeding breeding, double returns, double fresh) {
        if (breeding.weight().isEmpty()) {
            return returns * Math.log(breeding.mean() / (1 + breeding.mean())) - fresh * Math.log1p(breeding.mean());
        }
        double b = 1 + breeding.weight().get();
        double a = breeding.mean() * breeding.weight().get();
        return LogBeta.value(a + returns, b + fresh) - LogBeta.value(a, b);
    }

    static double ofOwnRate(RatePrior prior, Count[] counts) {
        double sum = 0;
        for (Count count : counts) {
            double kept = prior.rate() + count.exposure();
            sum += choices(count.returns(), prior.shape()) + prior.shape() * Math.log(prior.rate() / kept)
                    + (count.returns() == 0 ? 0 : count.returns() * Math.log(count.exposure() / kept));
        }
        return sum;
    }

    /** ln C(count+size-1, count). */
    private static double choices(double count, double size) {
        return count == 0 ? 0 : LogGamma.value(size + count) - LogGamma.value(size) - LogGamma.value(count + 1);
    }
}
