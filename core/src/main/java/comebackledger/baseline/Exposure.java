package comebackledger.baseline;

import comebackledger.Require;
import comebackledger.measure.MeterLine;
import comebackledger.trail.Totals;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What a unit has covered up to an instant, or up to its retirement.
 *
 * @param days from its start of service (else its first visit)
 * @param km from the first to the last known total, and on to the instant at the unit's own recent usage (else its peers'); empty where no odometer
 *     was read, or one reading stands alone and nobody's usage is known
 * @param engineHours likewise
 * @param estimated whether any stretch of distance or hours rests on usage instead of readings
 */
public record Exposure(double days, OptionalDouble km, OptionalDouble engineHours, boolean estimated) {
    public Exposure {
        Require.that(days >= 0 && Double.isFinite(days), "days must be 0 or more, was %s", days);
    }

    /** @param peers the median usage of the unit's group, for a unit whose own meters do not tell */
    public static Exposure of(UnitSummary unit, Instant at, Usage peers) {
        Instant end = unit.retiredAt().filter(retired -> retired.isBefore(at)).orElse(at);
        Usage usage = Usage.own(unit, at).or(peers);
        Optional<Line> km = Line.of(unit.km().until(at), usage.kmPerDay());
        Optional<Line> hours = Line.of(unit.engineHours().until(at), usage.hoursPerDay());
        Optional<Instant> start = start(unit).filter(first -> first.isBefore(end));
        return new Exposure(start.map(first -> MeterLine.daysBetween(first, end)).orElse(0.0), amount(km, end), amount(hours, end),
                km.filter(line -> line.estimate(end) > 0).isPresent() || hours.filter(line -> line.estimate(end) > 0).isPresent());
    }

    private static OptionalDouble amount(Optional<Line> line, Instant end) {
        return line.isPresent() ? OptionalDouble.of(line.get().at(end)) : OptionalDouble.empty();
    }

    /** When it began to be exposed, where that is known. */
    public static Optional<Instant> start(UnitSummary unit) {
        return unit.inServiceAt().or(unit::firstVisitAt);
    }

    /**
     * What one meter tells and what usage adds to it.
     *
     * @param known between readings of one piece
     * @param gapDays between pieces
     * @param from the newest reading
     * @param perDay 0 where nobody's usage is known
     */
    record Line(double known, double gapDays, Instant from, double perDay) {
        /** Empty where no meter was read, or one reading stands alone and nobody's usage is known. */
        static Optional<Line> of(Totals totals, OptionalDouble perDay) {
            if (totals.isEmpty() || totals.size() == 1 && perDay.isEmpty()) {
                return Optional.empty();
            }
            double known = 0;
            double gapDays = 0;
            for (int i = 1; i < totals.size(); i++) {
                if (totals.joins(i)) {
                    known += totals.total(i) - totals.total(i - 1);
                } else {
                    gapDays += totals.daysBetween(i - 1, i);
                }
            }
            return Optional.of(new Line(known, gapDays, totals.at(totals.last()), perDay.orElse(0)));
        }

        double at(Instant end) {
            return known + estimate(end);
        }

        private double estimate(Instant end) {
            return perDay * (Math.max(0, MeterLine.daysBetween(from, end)) + gapDays);
        }
    }
}
