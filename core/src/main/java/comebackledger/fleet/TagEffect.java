package comebackledger.fleet;

import java.util.OptionalDouble;
import org.apache.commons.numbers.gamma.RegularizedBeta;
import org.apache.commons.statistics.distribution.BetaDistribution;

/**
 * The rate of the units with a tag against those without, the spread between units counted.
 * <pre>
 *   r = X/E over all units        d_i = x_i - r e_i        q = E1/E, the tag's share of the exposure
 *   score U = sum over all units of (T_i - q) d_i,  T_i = 1 with the tag
 *   robust    V = sum (T_i - q)^2 d_i^2                                   model    V = sum (T_i - q)^2 (r e_i + b (r e_i)^2)
 *   b = max(0, sum(d_i^2 - r e_i) / sum (r e_i)^2): gamma-Poisson, by moments over all units
 *   c = max(1, V/(r E q (1-q))): how much wider than Poisson
 * </pre>
 * The larger V counts: the robust one alone is too small where few units have the tag, the model's where units with the tag spread more. The exact
 * conditional comparison of two Poisson counts (binomial; Clopper and Pearson limits of X1/X turned into a ratio of rates) is then made with both counts
 * divided by c, as a quasi-likelihood is, so that it keeps the skew of small counts.
 */
record TagEffect(OptionalDouble ratio, double low, OptionalDouble high, double pValue) {
    private static final double TAIL = 0.025;

    /** Sums over units; what a unit without events adds is kept apart from those with, because it is the same for every system. */
    static final class Sums {
        private int units;
        private double events;
        private double exposure;
        private double squaredEvents;
        private double eventsTimesExposure;
        private double squaredExposure;

        void add(double count, double exposed) {
            units++;
            events += count;
            exposure += exposed;
            squaredEvents += count * count;
            eventsTimesExposure += count * exposed;
            squaredExposure += exposed * exposed;
        }

        /** These units' events over the exposure of all of them, those without events included. */
        Sums within(Sums exposed) {
            Sums sums = new Sums();
            sums.units = exposed.units;
            sums.exposure = exposed.exposure;
            sums.squaredExposure = exposed.squaredExposure;
            sums.events = events;
            sums.squaredEvents = squaredEvents;
            sums.eventsTimesExposure = eventsTimesExposure;
            return sums;
        }

        int units() {
            return units;
        }

        double events() {
            return events;
        }

        private double squaredResiduals(double rate) {
            return Math.max(0, squaredEvents - 2 * rate * eventsTimesExposure + rate * rate * squaredExposure);
        }
    }

    static TagEffect of(Sums with, Sums all) {
        double share = with.exposure / all.exposure;
        double rate = all.events / all.exposure;
        double residuals = all.squaredResiduals(rate);
        double spread = Math.max(0, (residuals - all.events) / (rate * rate * all.squaredExposure));
        double own = with.squaredResiduals(rate);
        double robust = (1 - share) * (1 - share) * own + share * share * Math.max(0, residuals - own);
        double ownModel = rate * with.exposure + spread * rate * rate * with.squaredExposure;
        double allModel = all.events + spread * rate * rate * all.squaredExposure;
        double model = (1 - share) * (1 - share) * ownModel + share * share * (allModel - ownModel);
        double wider = Math.max(1, Math.max(robust, model) / (all.events * share * (1 - share)));
        return compared(with.events / wider, (all.events - with.events) / wider, share);
    }

    private static TagEffect compared(double with, double without, double share) {
        double upper = with == 0 ? 1 : RegularizedBeta.value(share, with, without + 1);
        double lower = without == 0 ? 1 : RegularizedBeta.value(1 - share, without, with + 1);
        double scale = (1 - share) / share;
        double low = with == 0 ? 0 : scale * odds(BetaDistribution.of(with, without + 1).inverseCumulativeProbability(TAIL));
        OptionalDouble high = without == 0
                ? OptionalDouble.empty()
                : OptionalDouble.of(scale * odds(BetaDistribution.of(with + 1, without).inverseSurvivalProbability(TAIL)));
        OptionalDouble ratio = without == 0 ? OptionalDouble.empty() : OptionalDouble.of(scale * with / without);
        return new TagEffect(ratio, low, high, Math.min(1, 2 * Math.min(upper, lower)));
    }

    private static double odds(double share) {
        return share / (1 - share);
    }
}
