package comebackledger.unit;

import comebackledger.Require;
import java.time.Instant;
import java.util.Collections;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * One vehicle, by the fleet's unit number.
 *
 * @param group the peers it is compared with, such as {@code linehaul}
 * @param tags what it is built from, such as body: tractor; patterns are looked for across them
 */
public record Unit(String id, Optional<String> group, Optional<Instant> inServiceAt, Optional<Instant> retiredAt, SortedMap<String, String> tags,
        Build build) {
    public Unit {
        Require.that(inServiceAt.isEmpty() || retiredAt.isEmpty() || !retiredAt.get().isBefore(inServiceAt.get()),
                "retiredAt must not be before inServiceAt");
        tags = Collections.unmodifiableSortedMap(new TreeMap<>(tags));
    }

    /** A unit of which nothing but the number is known. */
    public static Unit of(String id) {
        return new Unit(id, Optional.empty(), Optional.empty(), Optional.empty(), new TreeMap<>(Map.of()), Build.UNKNOWN);
    }
}
