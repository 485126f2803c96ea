package comebackledger.fleet;

import static comebackledger.measure.MeterLine.daysBetween;

import comebackledger.baseline.Usage;
import comebackledger.trail.Totals;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;

/**
 * The life of one unit against one measure, from its first known total: totals as read, straight lines between them, and usage where there is none
 * (beyond the last, and across a replaced meter whose totals do not join).
 */
final class LifeLine {
    private final Instant start;
    private final Totals known;
    private final double[] amounts;
    private final double perDay;
    private final boolean bridged;

    private LifeLine(Instant start, Totals known, double[] amounts, double perDay, boolean bridged) {
        this.start = start;
        this.known = known;
        this.amounts = amounts;
        this.perDay = perDay;
        this.bridged = bridged;
    }

    /** From in-service, else the first visit; empty for a unit that was never seen and has no such date. */
    static Optional<LifeLine> ofDays(UnitSummary unit, Instant end) {
        return unit.inServiceAt().or(unit::firstVisitAt).filter(start -> !start.isAfter(end))
                .map(start -> new LifeLine(start, Totals.NONE, new double[0], 1, false));
    }

    /** Empty where no total is known by the end, or where one is known but no usage. @param peersPerDay usage where the unit has none of its own */
    static Optional<LifeLine> of(UnitSummary unit, Measure measure, Instant end, Supplier<OptionalDouble> peersPerDay) {
        if (measure == Measure.DAYS) {
            return ofDays(unit, end);
        }
        Totals known = totals(unit, measure).until(end);
        OptionalDouble own = Usage.recent(known);
        OptionalDouble perDay = own.isPresent() ? own : peersPerDay.get();
        return known.isEmpty() || perDay.isEmpty() ? Optional.empty() : Optional.of(of(known, perDay.getAsDouble()));
    }

    private static LifeLine of(Totals known, double perDay) {
        double[] amounts = new double[known.size()];
        boolean bridged = false;
        for (int i = 1; i < amounts.length; i++) {
            bridged |= !known.joins(i);
            amounts[i] = amounts[i - 1] + (known.joins(i) ? known.total(i) - known.total(i - 1) : perDay * known.daysBetween(i - 1, i));
        }
        return new LifeLine(known.at(0), known, amounts, perDay, bridged);
    }

    /** The unit's own usage a day over its recent totals; empty where they tell none. */
    static OptionalDouble usage(UnitSummary unit, Measure measure, Instant end) {
        return measure == Measure.DAYS ? OptionalDouble.of(1) : Usage.recent(totals(unit, measure).until(end));
    }

    private static Totals totals(UnitSummary unit, Measure measure) {
        return switch (measure) {
            case KM -> unit.km();
            case ENGINE_HOURS -> unit.engineHours();
            case DAYS -> Totals.NONE;
        };
    }

    Instant start() {
        return start;
    }

    /** From the start to an instant not before it. */
    Amount until(Instant at) {
        if (amounts.length == 0) {
            return new Amount(perDay * daysBetween(start, at), false);
        }
        int i = amounts.length - 1;
        while (i > 0 && known.isAfter(i, at)) {
            i--;
        }
        double days = known.daysUntil(i, at);
        boolean reckoned = days > 0;
        if (i == amounts.length - 1) {
            return new Amount(amounts[i] + perDay * days, bridged || reckoned);
        }
        double share = days / known.daysBetween(i, i + 1);
        return new Amount(amounts[i] + share * (amounts[i + 1] - amounts[i]), bridged || reckoned);
    }

    /** Between two instants; before the start at the unit's usage. */
    double between(Instant from, Instant to) {
        return signed(to) - signed(from);
    }

    /** From a total as read; empty where totals do not join. */
    OptionalDouble since(double total, Instant to) {
        return bridged ? OptionalDouble.empty() : OptionalDouble.of(until(to).value() - (total - known.total(0)));
    }

    private double signed(Instant at) {
        return at.isBefore(start) ? -perDay * daysBetween(at, start) : until(at).value();
    }
}
