package comebackledger.baseline;

import comebackledger.trail.Flag;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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
    private static final String NO_BASELINE = "No baseline has been learned from the fleet yet.";
    private static final String NO_VISIT = "No visit is recorded, so no exposure of the unit is known.";
    private static final String NO_USAGE = "The trip cannot be set beside what the unit has covered: neither its own meters nor its peers' tell how far it "
            + "goes in a day.";

    private final Instant at;
    private final Usage usage;
    private final Drifts drifts;
    private final Optional<Baseline> baseline;
    private final boolean seen;
    private final List<Course> courses;
    private final Optional<UnitSummary> ahead;

    private Outlook(UnitSummary unit, Usage usage, Drifts drifts, Optional<Baseline> baseline, Instant at) {
        this.at = at;
        this.usage = usage;
        this.drifts = drifts;
        this.baseline = baseline;
        this.seen = unit.firstVisitAt().isPresent();
        this.courses = baseline.isPresent() ? courses(unit, baseline.get(), at) : List.of();
        this.ahead = hasAhead(unit, at) ? Optional.of(unit) : Optional.empty();
    }

    /**
     * Of a unit as it stands at an instant. It keeps little of the unit: courses that are functions of the instant, and the history itself only where some
     * of it lies ahead.
     *
     * @param usage its own, else its peers'
     * @param baseline empty where nothing was learned yet
     */
    static Outlook of(UnitSummary unit, Usage usage, Drifts drifts, Optional<Baseline> baseline, Instant at) {
        return new Outlook(unit, usage, drifts, baseline, at);
    }

    /** By measure, the one to use first. */
    private static List<Course> courses(UnitSummary unit, Baseline baseline, Instant at) {
        Usage peers = baseline.usage(unit.group());
        List<Course> courses = new ArrayList<>(1);
        for (Wear measure : Wear.values()) {
            Tale tale = new Tale(unit, at, measure, peers);
            tale.course(baseline.lessons(measure).fresh(unit.group())).ifPresent(courses::add);
            if (!courses.isEmpty() && tale.usage().kmPerDay().isPresent()) {
                break; // every trip of a known length has one in distance then
            }
        }
        return List.copyOf(courses);
    }

    private static boolean hasAhead(UnitSummary unit, Instant at) {
        return unit.km().goesBeyond(at) || unit.engineHours().goesBeyond(at)
                || unit.episodes().stream().anyMatch(episode -> episode.openedAt().isAfter(at))
                || unit.repairs().stream().anyMatch(repair -> repair.at().isAfter(at) || repair.nextEpisodeAt().filter(at::isBefore).isPresent()
                        || repair.nextRepairAt().filter(at::isBefore).isPresent());
    }

    /** The drifting flags whose crossing falls inside a trip from the outlook's instant. */
    public List<Flag> driftingOn(Trip trip) {
        return drifts.on(trip, usage, at);
    }

    /** The instants at which a crossing comes into the trip. */
    public List<Instant> changes(Trip trip) {
        return drifts.tripStarts(trip, usage);
    }

    /** The trip in the words of a measure. */
    public record Trip(OptionalDouble km, OptionalDouble hours) {
        /** Distance is taken as asked; hours, and days, by usage. */
        OptionalDouble in(Wear measure, Usage usage) {
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

    /** Asked at the outlook's instant or later, with no new evidence; its answer moves as the unit covers more. */
    public Answer at(Instant instant, Trip trip) {
        if (baseline.isEmpty()) {
            return new Answer.Absent(NO_BASELINE);
        }
        if (!seen) {
            return new Answer.Absent(NO_VISIT);
        }
        Optional<OnTrip> asked = onTrip(instant, trip);
        return asked.isPresent() ? new Answer.Known(asked.get().chance(baseline.get().version())) : new Answer.Absent(NO_USAGE);
    }

    /** The probability of {@link #at} by itself; empty where it is absent. */
    public OptionalDouble probability(Instant instant, Trip trip) {
        Optional<OnTrip> asked = baseline.isPresent() && seen ? onTrip(instant, trip) : Optional.empty();
        return asked.isPresent() ? OptionalDouble.of(asked.get().probability()) : OptionalDouble.empty();
    }

    private Optional<OnTrip> onTrip(Instant instant, Trip trip) {
        List<Course> then = ahead.isPresent() && instant.isAfter(at) ? courses(ahead.get(), baseline.orElseThrow(), instant) : courses;
        for (Course course : then) {
            OptionalDouble length = trip.in(course.measure(), usage);
            if (length.isPresent()) {
                return Optional.of(new OnTrip(course, instant, length.getAsDouble(), drifts.chanceWithin(trip, usage, instant),
                        baseline.orElseThrow().lessons(course.measure()).returns()));
            }
        }
        return Optional.empty();
    }

    /** The law of Λ on one trip from one instant. */
    private final class OnTrip {
        private final Course course;
        private final double trip;
        private final double noCrossing;
        private final Returns returning;
        private final double exposure;
        private final List<Spell> spells;
        private final Returns.Posterior known;
        private final double ahead;

        OnTrip(Course course, Instant instant, double trip, double crossing, Returns returning) {
            this.course = course;
            this.trip = trip;
            this.noCrossing = 1 - crossing;
            this.returning = returning;
            exposure = course.exposure(instant);
            spells = course.spells(instant);
            known = returning.posterior(new Returns.History(exposure, course.fresh(), spells), course.peers().prior());
            HoldHazard holds = returning.holds();
            ahead = spells.stream().filter(Spell::standing).mapToDouble(
                    spell -> holds.expected(spell.stratum(), spell.length() + trip) - holds.expected(spell.stratum(), spell.length())).sum();
        }

        double probability() {
            double none = Math.pow(known.freshRate() / (known.freshRate() + trip), known.freshShape())
                    * Math.pow(known.returnRate() / (known.returnRate() + ahead), known.returnShape());
            return 1 - none * noCrossing;
        }

        Chance chance(int baselineVersion) {
            double probability = probability();
            double fresh = known.theta() * trip;
            double returns = known.phi() * ahead;
            double mean = fresh + returns;
            double variance = fresh * fresh / known.freshShape() + returns * returns / known.returnShape();
            GammaDistribution intensity = GammaDistribution.of(mean * mean / variance, variance / mean);
            double low = 1 - Math.exp(-intensity.inverseCumulativeProbability(TAIL)) * noCrossing;
            double high = 1 - Math.exp(-intensity.inverseSurvivalProbability(TAIL)) * noCrossing;
            return new Chance(probability, Math.min(low, probability), Math.max(high, probability), basis(), baselineVersion);
        }

        private String basis() {
            Wear measure = course.measure();
            PeerRate peer = course.peers();
            StringBuilder basis = new StringBuilder(160);
            basis.append("own history: ").append(counted(course.every(), "episode")).append(" in ").append(measure.told(exposure)).append("; peers: ")
                    .append(peer.level().words()).append(" (").append(counted(peer.units(), "unit")).append(", ")
                    .append(counted(Math.round(peer.events()), "fresh fault")).append(')');
            int standing = 0;
            double newest = Double.MAX_VALUE;
            for (Spell spell : spells) {
                if (spell.standing()) {
                    standing++;
                    newest = Math.min(newest, spell.length());
                }
            }
            if (standing > 0) {
                basis.append("; age of repairs: ").append(standing).append(" not returned, the newest ").append(measure.told(newest)).append(" old")
                        .append(returning.learned() ? "" : ", by weak figures of common practice");
            }
            if (drifts.any()) {
                basis.append("; drift of readings");
            }
            return basis.append('.').toString();
        }
    }

    private static String counted(long count, String what) {
        return count + " " + what + (count == 1 ? "" : "s");
    }
}
