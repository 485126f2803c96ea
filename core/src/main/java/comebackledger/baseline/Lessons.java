package comebackledger.baseline;

import java.util.Collections;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * What was learned in one measure. Rates stand by exact system ({@code network.j1939-1}), by kind of system ({@code network}) and for
 * {@link #ALL} together.
 *
 * @param fresh of episodes that are not the first return on a repaired place; for {@link #ALL} with the returns that were fresh faults as well
 * @param every of all episodes; no-fault-found ones count nowhere
 * @param returns how repaired places return
 */
public record Lessons(SortedMap<String, PeerRates> fresh, SortedMap<String, PeerRates> every, Returns returns) {
    /** Every covered system together. */
    public static final String ALL = "all";

    public Lessons {
        fresh = Collections.unmodifiableSortedMap(new TreeMap<>(fresh));
        every = Collections.unmodifiableSortedMap(new TreeMap<>(every));
    }

    /** New faults in all covered systems together. */
    public PeerRate fresh(Optional<String> group) {
        PeerRates all = fresh.get(ALL);
        if (all == null) {
            throw new IllegalStateException("lessons hold the rate of all systems together");
        }
        return all.of(group);
    }

    /** All episodes of one system; empty where none was ever seen. */
    public Optional<PeerRate> every(String system, Optional<String> group) {
        return Optional.ofNullable(every.get(system)).map(rates -> rates.of(group));
    }

    /** {@code network.j1939-1} is a network. */
    static String kind(String system) {
        int dot = system.indexOf('.');
        return dot < 0 ? system : system.substring(0, dot);
    }
}
