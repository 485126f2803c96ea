package comebackledger.trail;

import java.util.ArrayList;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;

/**
 * Tests of one system and stage that all passed.
 *
 * @param repeats the kinds of evidence that were taken again
 */
record PassedTest(String system, SortedSet<String> repeats, List<String> evidence) {
    PassedTest and(PassedTest other) {
        SortedSet<String> both = new TreeSet<>(repeats);
        both.addAll(other.repeats());
        List<String> pointers = new ArrayList<>(evidence);
        pointers.addAll(other.evidence());
        return new PassedTest(system, both, List.copyOf(pointers));
    }

    boolean repeatsAll(SortedSet<String> convictions) {
        return repeats.containsAll(convictions);
    }
}
