package comebackledger.baseline;

import java.util.Collections;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/** The spread of rates of the whole fleet and of each group. */
public record PeerRates(PeerRate fleet, SortedMap<String, PeerRate> groups) {
    public PeerRates {
        groups = Collections.unmodifiableSortedMap(new TreeMap<>(groups));
    }

    /** Of a unit's group; the fleet's for a unit without one. */
    public PeerRate of(Optional<String> group) {
        return group.map(name -> groups.getOrDefault(name, fleet)).orElse(fleet);
    }
}
