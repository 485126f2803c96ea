package comebackledger.baseline;

import comebackledger.stat.Median;
import comebackledger.trail.Totals;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.Arrays;
import java.util.Collection;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Stream;

/** How far a unit, or the middle unit of its peers, goes in a day of 24 h. Empty where no two readings of one meter tell. */
public record Usage(OptionalDouble kmPerDay, OptionalDouble hoursPerDay) {
    public static final Usage UNKNOWN = new Usage(OptionalDouble.empty(), OptionalDouble.empty());

    /** Recent usage is read over the newest readings that span this many days, fewer where there are no more (common practice, no source). */
    static final double RECENT_DAYS = 90;

    /** The unit's own recent usage at an instant. */
    public static Usage own(UnitSummary unit, Instant at) {
        return new Usage(recent(unit.km().until(at)), recent(unit.engineHours().until(at)));
    }

    /** The median of those that are known. */
    public static Usage median(Collection<Usage> units) {
        return new Usage(median(units, Usage::kmPerDay), median(units, Usage::hoursPerDay));
    }

    /** This, and where it is unknown the other. */
    public Usage or(Usage other) {
        return new Usage(kmPerDay.isPresent() ? kmPerDay : other.kmPerDay, hoursPerDay.isPresent() ? hoursPerDay : other.hoursPerDay);
    }

    private static OptionalDouble median(Collection<Usage> units, Function<Usage, OptionalDouble> measure) {
        double[] known = units.stream().map(measure).flatMap(one -> one.isPresent() ? Stream.of(one.getAsDouble()) : Stream.empty())
                .mapToDouble(Double::doubleValue).toArray();
        Arrays.sort(known);
        return known.length == 0 ? OptionalDouble.empty() : OptionalDouble.of(Median.ofSorted(known));
    }

    /** Of the newest of some totals. */
    public static OptionalDouble recent(Totals totals) {
        int last = totals.last();
        int since = last;
        for (int i = last - 1; i >= 0 && totals.piece(i) == totals.piece(last); i--) {
            double days = totals.daysBetween(i, last);
            since = days > 0 ? i : since;
            if (days >= RECENT_DAYS) {
                break;
            }
        }
        return since == last
                ? OptionalDouble.empty()
                : OptionalDouble.of((totals.total(last) - totals.total(since)) / totals.daysBetween(since, last));
    }
}
