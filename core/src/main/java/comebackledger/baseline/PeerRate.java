package comebackledger.baseline;

import comebackledger.Require;
import comebackledger.stat.RatePrior;

/**
 * How the rates of peers are spread: gamma, per unit of the measure.
 *
 * @param level whose rates these are
 * @param events of all those units, over all their {@code exposure}
 */
public record PeerRate(Level level, double shape, double rate, int units, double events, double exposure) {
    /** From the nearest peers to none. */
    public enum Level {
        GROUP("its group"), FLEET("the whole fleet"), WEAK("weak figures of common practice");

        private final String words;

        Level(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    /** Below these a group leans on the fleet, and the fleet on weak figures (common practice, no source). */
    static final int UNITS_ENOUGH = 10;
    static final double EVENTS_ENOUGH = 10;
    /** Rates that differ no more than chance are still given a spread of one in seven: no fleet is perfectly even (common practice, no source). */
    static final double MOST_EVEN_SHAPE = 50;
    /** How much the weak figure weighs, in events (common practice, no source). */
    private static final double WEAK_EVENTS = 0.5;
    private static final double WEAK_SHAPE = 1;
    /** How much the fleet's mean weighs in a group's, in events (common practice, no source). */
    private static final double FLEET_EVENTS = 5;

    public PeerRate {
        Require.that(shape > 0 && Double.isFinite(shape), "shape must be above 0, was %s", shape);
        Require.that(rate > 0 && Double.isFinite(rate), "rate must be above 0, was %s", rate);
    }

    public double mean() {
        return shape / rate;
    }

    public RatePrior prior() {
        return new RatePrior(shape, rate);
    }

    /** Of all units with exposure. */
    static PeerRate fleet(Counts counts, Wear measure) {
        if (counts.enough()) {
            return fitted(Level.FLEET, counts);
        }
        double mean = (WEAK_EVENTS + counts.events()) / (WEAK_EVENTS / measure.weakRate() + counts.exposure());
        return new PeerRate(Level.WEAK, WEAK_SHAPE, WEAK_SHAPE / mean, counts.units(), counts.events(), counts.exposure());
    }

    /** Of the units of one group, leaning on the fleet's where they are few. */
    static PeerRate group(Counts counts, PeerRate fleet) {
        if (counts.enough()) {
            return fitted(Level.GROUP, counts);
        }
        double mean = (FLEET_EVENTS + counts.events()) / (FLEET_EVENTS / fleet.mean() + counts.exposure());
        return new PeerRate(fleet.level(), fleet.shape(), fleet.shape() / mean, fleet.units(), fleet.events(), fleet.exposure());
    }

    private static PeerRate fitted(Level level, Counts counts) {
        RatePrior pooled = new RatePrior(MOST_EVEN_SHAPE, MOST_EVEN_SHAPE * counts.exposure() / counts.events());
        RatePrior prior = RatePrior.fit(counts.eventsByUnit(), counts.exposureByUnit()).prior().orElse(pooled);
        double shape = Math.min(prior.shape(), MOST_EVEN_SHAPE);
        return new PeerRate(level, shape, shape / prior.mean(), counts.units(), counts.events(), counts.exposure());
    }
}
