package comebackledger.baseline;

import comebackledger.Require;
import comebackledger.measure.MeterLine;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.List;
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
        Covered km = covered(Reading.odometer(unit, at), end, usage.kmPerDay());
        Covered hours = covered(Reading.engineHours(unit, at), end, usage.hoursPerDay());
        Optional<Instant> start = start(unit).filter(first -> first.isBefore(end));
        return new Exposure(start.map(first -> MeterLine.daysBetween(first, end)).orElse(0.0), km.amount(), hours.amount(),
                km.estimated() || hours.estimated());
    }

    /** When it began to be exposed, where that is known. */
    public static Optional<Instant> start(UnitSummary unit) {
        return unit.inServiceAt().or(unit::firstVisitAt);
    }

    private record Covered(OptionalDouble amount, boolean estimated) {}

    private static Covered covered(List<Reading> readings, Instant end, OptionalDouble perDay) {
        if (readings.isEmpty() || readings.size() == 1 && perDay.isEmpty()) {
            return new Covered(OptionalDouble.empty(), false);
        }
        double known = 0;
        double unknownDays = Math.max(0, MeterLine.daysBetween(readings.getLast().at(), end));
        for (int i = 1; i < readings.size(); i++) {
            Reading before = readings.get(i - 1);
            Reading now = readings.get(i);
            if (before.piece() == now.piece()) {
                known += now.total() - before.total();
            } else {
                unknownDays += MeterLine.daysBetween(before.at(), now.at());
            }
        }
        double estimate = perDay.orElse(0) * unknownDays;
        return new Covered(OptionalDouble.of(known + estimate), estimate > 0);
    }
}
