package comebackledger.fleet;

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

    static double ofBreeding(Breeding breeding, Counted counted) {
        double sum = 0;
        for (int kind = 0; kind < counted.kinds(); kind++) {
            double returns = counted.kindReturns(kind);
            double fresh = Math.max(HARDLY_FRESH, counted.kindFresh(kind));
            sum += counted.kindUnits(kind) * (choices(returns, fresh) + logShare(breeding, returns, fresh));
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

    static double ofOwnRate(RatePrior prior, Counted counted) {
        double sum = 0;
        for (int kind = 0; kind < counted.kinds(); kind++) {
            sum += counted.kindUnits(kind) * choices(counted.kindReturns(kind), prior.shape());
        }
        for (int i = 0; i < counted.units(); i++) {
            double kept = prior.rate() + counted.exposure(i);
            sum += prior.shape() * Math.log(prior.rate() / kept)
                    + (counted.returns(i) == 0 ? 0 : counted.returns(i) * Math.log(counted.exposure(i) / kept));
        }
        return sum;
    }

    /** ln C(count+size-1, count). */
    private static double choices(double count, double size) {
        return count == 0 ? 0 : LogGamma.value(size + count) - LogGamma.value(size) - LogGamma.value(count + 1);
    }
}
