package comebackledger.judge;

import comebackledger.visit.CodeStatus;
import comebackledger.visit.Stage;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalInt;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * What the fold remembers of the codes seen before, and with it which codes of a visit count.
 *
 * <p>A code counts when active or pending; or stored or permanent with a count higher than when last seen; or stored with a count not known,
 * when the codes were cleared at an earlier visit and it has not been seen since. Clearing sets the last count of every code to 0; without a
 * clearing, a stored code on first sight is history. A code that the work itself set never counts.
 *
 * @param cleared whether codes were ever cleared
 * @param seen the last count of each code key since the last clearing; -1 where it was seen without a count
 */
public record CodeMemory(boolean cleared, SortedMap<String, Integer> seen) {
    public static final CodeMemory NONE = new CodeMemory(false, new TreeMap<>());

    private static final int NOT_COUNTED = -1;

    public CodeMemory {
        seen = Collections.unmodifiableSortedMap(new TreeMap<>(seen));
    }

    /** The memory after one more visit. */
    public CodeMemory after(VisitFacts facts) {
        return visit(facts).memory();
    }

    /** The codes that count, and the memory after the visit. */
    record After(List<CodeFact> counting, CodeMemory memory) {}

    After visit(VisitFacts facts) {
        if (facts.codes().isEmpty() && !facts.codesCleared()) {
            return new After(List.of(), this);
        }
        List<CodeFact> counting = new ArrayList<>();
        Draft draft = new Draft(cleared, new TreeMap<>(seen));
        facts.codes().stream().filter(code -> code.stage() == Stage.AS_FOUND).forEach(code -> draft.see(code, counting));
        if (facts.codesCleared()) {
            draft.cleared = true;
            draft.seen.clear();
        }
        facts.codes().stream().filter(code -> code.stage() == Stage.AS_LEFT).forEach(code -> draft.see(code, counting));
        return new After(counting, new CodeMemory(draft.cleared, draft.seen));
    }

    private static final class Draft {
        private boolean cleared;
        private final SortedMap<String, Integer> seen;

        Draft(boolean cleared, SortedMap<String, Integer> seen) {
            this.cleared = cleared;
            this.seen = seen;
        }

        void see(CodeFact code, List<CodeFact> counting) {
            if (!code.setDuringService() && counts(code)) {
                counting.add(code);
            }
            // A reading without a count does not forget the count known before it, nor the 0 of a clearing.
            int last = seen.getOrDefault(code.key(), cleared ? 0 : NOT_COUNTED);
            seen.put(code.key(), code.occurrences().orElse(last));
        }

        private boolean counts(CodeFact code) {
            if (code.status() == CodeStatus.ACTIVE || code.status() == CodeStatus.PENDING) {
                return true;
            }
            OptionalInt last = lastCount(code.key());
            if (code.occurrences().isPresent()) {
                return last.isPresent() && code.occurrences().getAsInt() > last.getAsInt();
            }
            return code.status() == CodeStatus.STORED && cleared && !seen.containsKey(code.key());
        }

        /** 0 after a clearing for every code not seen since; empty where the code, or its count, was never known. */
        private OptionalInt lastCount(String key) {
            Integer last = seen.get(key);
            if (last == null) {
                return cleared ? OptionalInt.of(0) : OptionalInt.empty();
            }
            return last == NOT_COUNTED ? OptionalInt.empty() : OptionalInt.of(last);
        }
    }
}
