package comebackledger.baseline;

import comebackledger.stat.RatePrior;
import java.util.List;

/**
 * How repaired places return: because the repair did not hold, or because the place failed afresh, as any place may.
 * <pre>
 *   hazard of a repaired place = φ·h(age) + θ·s       φ the unit's factor, mean 1       θ the unit's rate of fresh faults, all places together
 *   a return at an age is fresh by                    θ·s / (θ·s + φ·h(age))            s the share of one place in the fresh faults
 * </pre>
 * Beyond the last stretch of age the repair counts as good, so the returns there tell s. Both spreads are gamma; all are learned in turns of expectation
 * and maximisation (Dempster, Laird and Rubin 1977).
 *
 * @param holds h
 * @param placeShare s
 * @param frailty the shape of the spread of φ; large where units are alike
 * @param learned whether there were returns enough; else weak figures of common practice lead
 */
public record Returns(HoldHazard holds, double placeShare, double frailty, int repairs, int returns, boolean learned) {
    private static final int ROUNDS = 8;
    private static final int SHARING_ROUNDS = 6;
    /** One place in ten, weighing two events (common practice, no source). */
    private static final double WEAK_SHARE = 0.1;
    private static final double WEAK_SHARE_EVENTS = 2;
    /** The spread of unit factors where the returns are too few to tell (common practice, no source). */
    private static final double WEAK_FRAILTY = 2;

    /** One unit's exposure, its episodes that are no return, and its watched repairs. */
    record History(double exposure, int fresh, List<Spell> spells) {}

    /** What a unit's history makes of both spreads: {@code theta ~ gamma(freshShape, freshRate)}, {@code phi ~ gamma(returnShape, returnRate)}. */
    record Posterior(double freshEvents, double freshShape, double freshRate, double returnEvents, double returnExpected, double returnShape,
            double returnRate) {
        double theta() {
            return freshShape / freshRate;
        }

        double phi() {
            return returnShape / returnRate;
        }
    }

    /** @param peers the spread of fresh rates */
    Posterior posterior(History history, RatePrior peers) {
        double expected = history.spells().stream().mapToDouble(spell -> holds.expected(spell.stratum(), spell.length())).sum();
        List<Spell> returned = history.spells().stream().filter(Spell::returned).toList();
        double freshAmongReturns = returned.size() / 2.0;
        Posterior now = posterior(history, peers, expected, returned.size(), freshAmongReturns);
        for (int round = 0; round < SHARING_ROUNDS && !returned.isEmpty(); round++) {
            freshAmongReturns = 0;
            for (Spell spell : returned) {
                freshAmongReturns += freshShare(spell, now);
            }
            now = posterior(history, peers, expected, returned.size(), freshAmongReturns);
        }
        return now;
    }

    private Posterior posterior(History history, RatePrior peers, double expected, int returned, double freshAmongReturns) {
        double fresh = history.fresh() + freshAmongReturns;
        double repair = returned - freshAmongReturns;
        return new Posterior(fresh, peers.shape() + fresh, peers.rate() + history.exposure(), repair, expected, frailty + repair, frailty + expected);
    }

    /** How likely a return was a fresh fault of its place. */
    private double freshShare(Spell spell, Posterior unit) {
        double fresh = unit.theta() * placeShare;
        return fresh / (fresh + unit.phi() * holds.at(spell.stratum(), spell.length()));
    }

    static Returns learn(List<History> units, Wear measure) {
        int repairs = units.stream().mapToInt(unit -> unit.spells().size()).sum();
        int returned = (int) units.stream().flatMap(unit -> unit.spells().stream()).filter(Spell::returned).count();
        boolean enough = returned >= PeerRate.EVENTS_ENOUGH;
        HoldHazard.Fit first = new HoldHazard.Fit(measure);
        Counts plain = new Counts();
        for (History unit : units) {
            unit.spells().forEach(spell -> first.add(spell, 1, 1));
            plain.add(unit.fresh(), unit.exposure());
        }
        PeerRate peers = PeerRate.fleet(plain, measure);
        Returns now = new Returns(first.fitted(measure), WEAK_SHARE, WEAK_FRAILTY, repairs, returned, enough);
        for (int round = 0; round < ROUNDS; round++) {
            HoldHazard.Fit fit = new HoldHazard.Fit(measure);
            Counts fresh = new Counts();
            Counts factors = new Counts();
            double tailReturns = 0;
            double tailExpected = 0;
            for (History unit : units) {
                Posterior known = now.posterior(unit, peers.prior());
                for (Spell spell : unit.spells()) {
                    fit.add(spell, known.phi(), spell.returned() ? 1 - now.freshShare(spell, known) : 0);
                    double beyond = Math.max(0, spell.length() - measure.edges().getLast());
                    tailExpected += known.theta() * beyond;
                    tailReturns += beyond > 0 && spell.returned() ? 1 : 0;
                }
                fresh.add(Math.rint(known.freshEvents()), unit.exposure());
                factors.add(Math.rint(known.returnEvents()), known.returnExpected());
            }
            peers = PeerRate.fleet(fresh, measure);
            double share = (WEAK_SHARE_EVENTS + tailReturns) / (WEAK_SHARE_EVENTS / WEAK_SHARE + tailExpected);
            double spread = enough && factors.enough() ? PeerRate.fleet(factors, measure).shape() : WEAK_FRAILTY;
            now = new Returns(fit.fitted(measure), Math.min(1, share), spread, repairs, returned, enough);
        }
        return now;
    }
}
