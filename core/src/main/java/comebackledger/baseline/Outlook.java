package comebackledger.baseline;

import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.GammaDistribution;

/**
 * The chance that a unit opens a new episode during a trip.
 * <pre>
 *   P = 1 − E[exp(−Λ)]
 *   Λ = θ·e + φ·ΔH       e the trip       ΔH = Σ H(age + e) − H(age) over the repairs that have not returned ({@link Returns})
 *   θ | own history ~ gamma(a', b')       a' = a + fresh faults, b' = b + own exposure; (a, b) the spread of the peers' rates
 *   φ | own history ~ gamma(f', f'')      f' = f + returns, f'' = f + expected returns; f the spread of the units' factors
 *   E[exp(−Λ)] = (b'/(b' + e))^a' · (f''/(f'' + ΔH))^f'
 * </pre>
 * and each drifting reading that has not yet met its limit adds the chance that its line meets it on the trip. Distance is used where the odometer is known,
 * else days; the trip is changed into the other at the unit's own usage, else its peers'. The interval is the 95 % credible one of Λ, taken as gamma with
 * the same mean and variance (Welch and Satterthwaite's way).
 */
public final class Outlook {
    private static final double TAIL = 0.025;

    private final UnitSummary unit;
    private final Baseline baseline;
    private final Drifts drifts;
    private final Usage peers;

    /** @param unit of the visits that arrived by the instants asked about */
    Outlook(UnitSummary unit, Baseline baseline, Drifts drifts) {
        this.unit = unit;
        this.baseline = baseline;
        this.drifts = drifts;
        this.peers = baseline.usage(unit.group());
    }

    /** The trip in the words of a measure. */
    public record Trip(OptionalDouble km, OptionalDouble hours) {
        /** Distance is taken as asked; hours, and days, by usage. */
        OptionalDouble in(Measure measure, Usage usage) {
            OptionalDouble days = km.isPresent() ? over(km, usage.kmPerDay()) : over(hours, usage.hoursPerDay());
            return switch (measure) {
                case DAYS -> days;
                case KM -> km.isPresent() || days.isEmpty() || usage.kmPerDay().isEmpty()
                        ? km
                        : OptionalDouble.of(days.getAsDouble() * usage.kmPerDay().getAsDouble());
            };
        }

        private static OptionalDouble over(OptionalDouble amount, OptionalDouble perDay) {
            return amount.isPresent() && perDay.orElse(0) > 0
                    ? OptionalDouble.of(amount.getAsDouble() / perDay.getAsDouble())
                    : OptionalDouble.empty();
        }
    }

    /** A chance, or why there is none. */
    public sealed interface Answer {
        record Known(Chance chance) implements Answer {}

        record Absent(String why) implements Answer {}
    }

    /** Asked at an instant; its answer moves as the unit covers more. */
    public Answer at(Instant instant, Trip trip) {
        if (unit.firstVisitAt().isEmpty()) {
            return new Answer.Absent("No visit is recorded, so no exposure of the unit is known.");
        }
        for (Measure measure : Measure.values()) {
            Tale tale = new Tale(unit, instant, measure, peers);
            OptionalDouble length = trip.in(measure, tale.usage());
            if (tale.exposure().isPresent() && length.isPresent()) {
                return new Answer.Known(chance(tale, measure, length.getAsDouble(), drifts.chanceWithin(trip, tale.usage(), instant)));
            }
        }
        return new Answer.Absent(
                "The trip cannot be set beside what the unit has covered: neither its own meters nor its peers' tell how far it goes in a day.");
    }

    private Chance chance(Tale tale, Measure measure, double trip, double crossing) {
        Lessons lessons = baseline.lessons(measure);
        PeerRate peer = lessons.fresh(unit.group());
        Returns returning = lessons.returns();
        List<Spell> spells = tale.spells();
        int events = tale.fresh().values().stream().mapToInt(Integer::intValue).sum();
        Returns.Posterior known = returning.posterior(new Returns.History(tale.exposure().orElseThrow(), events, spells), peer.prior());
        List<Spell> standing = spells.stream().filter(Spell::standing).toList();
        HoldHazard holds = returning.holds();
        double ahead = standing.stream()
                .mapToDouble(spell -> holds.expected(spell.stratum(), spell.length() + trip) - holds.expected(spell.stratum(), spell.length())).sum();

        double none = Math.pow(known.freshRate() / (known.freshRate() + trip), known.freshShape())
                * Math.pow(known.returnRate() / (known.returnRate() + ahead), known.returnShape());
        double noCrossing = 1 - crossing;
        double probability = 1 - none * noCrossing;

        double fresh = known.theta() * trip;
        double returns = known.phi() * ahead;
        double mean = fresh + returns;
        double variance = fresh * fresh / known.freshShape() + returns * returns / known.returnShape();
        GammaDistribution intensity = GammaDistribution.of(mean * mean / variance, variance / mean);
        double low = 1 - Math.exp(-intensity.inverseCumulativeProbability(TAIL)) * noCrossing;
        double high = 1 - Math.exp(-intensity.inverseSurvivalProbability(TAIL)) * noCrossing;
        String basis = basis(measure, tale, peer, tale.every().values().stream().mapToInt(Integer::intValue).sum(), standing, returning);
        return new Chance(probability, Math.min(low, probability), Math.max(high, probability), basis, baseline.version());
    }

    private static String counted(long count, String what) {
        return count + " " + what + (count == 1 ? "" : "s");
    }

    private String basis(Measure measure, Tale tale, PeerRate peer, int events, List<Spell> standing, Returns returning) {
        List<String> parts = new ArrayList<>();
        parts.add("own history: " + counted(events, "episode") + " in " + measure.told(tale.exposure().orElseThrow()));
        parts.add("peers: " + peer.level().words() + " (" + counted(peer.units(), "unit") + ", " + counted(Math.round(peer.events()), "fresh fault")
                + ")");
        if (!standing.isEmpty()) {
            double newest = standing.stream().mapToDouble(Spell::length).min().orElseThrow();
            parts.add(
                    "age of repairs: " + standing.size() + " not returned, the newest " + measure.told(newest) + " old"
                            + (returning.learned() ? "" : ", by weak figures of common practice"));
        }
        if (drifts.any()) {
            parts.add("drift of readings");
        }
        return String.join("; ", parts) + ".";
    }
}
