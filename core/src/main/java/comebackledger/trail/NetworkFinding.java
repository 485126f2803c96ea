package comebackledger.trail;

import java.time.Instant;
import java.util.Collections;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * The latest failing check of a network.
 *
 * @param faultOdds summed probability by fault; a break that left every called module answering counts as a missing terminator
 */
public record NetworkFinding(String visit, Instant at, SortedMap<String, Double> faultOdds) {
    public NetworkFinding {
        faultOdds = Collections.unmodifiableSortedMap(new TreeMap<>(faultOdds));
    }
}
