package comebackledger.baseline;

import comebackledger.Require;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.Collections;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Consumer;

/**
 * What is learned across the fleet and used for one unit. Derived and versioned; every answer that used it cites the version.
 *
 * @param version from 1, as it is kept; 0 until then
 * @param units whose rows were read
 * @param visits of them that read a meter
 * @param usage the median unit of the fleet
 * @param usageByGroup the median unit of each group
 */
public record Baseline(int version, Instant learnedAt, int units, long visits, Usage usage, SortedMap<String, Usage> usageByGroup, Lessons km,
        Lessons days) {
    public Baseline {
        Require.that(version >= 0, "version must be 0 or more, was %s", version);
        usageByGroup = Collections.unmodifiableSortedMap(new TreeMap<>(usageByGroup));
    }

    /** The compact rows of a fleet, by identifier; read twice. */
    public interface Rows {
        void each(Consumer<UnitSummary> row);
    }

    /** Learns from everything that happened by an instant. */
    public static Baseline learn(Rows rows, Instant at) {
        Learning learning = new Learning(at);
        rows.each(learning::readUsage);
        learning.settleUsage();
        rows.each(learning::readHistory);
        return learning.baseline();
    }

    /** The same, as it is kept. */
    public Baseline kept(int as, Instant keptAt) {
        return new Baseline(as, keptAt, units, visits, usage, usageByGroup, km, days);
    }

    /** The median usage of a group, else of the fleet. */
    public Usage usage(Optional<String> group) {
        return group.map(usageByGroup::get).map(found -> found.or(usage)).orElse(usage);
    }

    public Lessons lessons(Wear measure) {
        return switch (measure) {
            case KM -> km;
            case DAYS -> days;
        };
    }
}
