package comebackledger.trail;

import java.util.Collections;
import java.util.SortedMap;
import java.util.TreeMap;

/** One of a state's maps on its way through a step: most visits change few of them, and only those are copied. */
final class Changing<V> {
    private SortedMap<String, V> entries;
    private boolean own;

    Changing(SortedMap<String, V> before) {
        this.entries = before;
    }

    /** To look at. */
    SortedMap<String, V> entries() {
        return entries;
    }

    /** To change. */
    SortedMap<String, V> own() {
        if (!own) {
            entries = new TreeMap<>(entries);
            own = true;
        }
        return entries;
    }

    /** What it came to, for a state to keep. */
    SortedMap<String, V> kept() {
        return own ? Collections.unmodifiableSortedMap(entries) : entries;
    }
}
