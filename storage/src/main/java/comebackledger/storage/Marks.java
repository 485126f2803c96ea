package comebackledger.storage;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Supplier;

import comebackledger.ledger.Stored;

/**
 * How far each fleet has come, remembered until anything is written, for tables that this process alone can write to. A mark is known as of a count of writes
 * that was read before it: a write that ended in between makes it be read again, so none that was acknowledged is missed.
 */
final class Marks {
    /** By file: two stores of one process may have the same one open. */
    private static final Map<String, AtomicLong> WRITES = new ConcurrentHashMap<>();

    private record Known(long writes, Stored.Mark mark) {}

    private final AtomicLong writes;
    private final Map<String, Known> known = new ConcurrentHashMap<>();

    Marks(String file) {
        writes = WRITES.computeIfAbsent(file, _ -> new AtomicLong());
    }

    /** After a write ended, whatever became of it, and before its answer. */
    void wrote() {
        writes.incrementAndGet();
    }

    Stored.Mark mark(String fleet, Supplier<Stored.Mark> read) {
        long before = writes.get();
        Known last = known.get(fleet);
        if (last != null && last.writes() == before) {
            return last.mark();
        }
        Stored.Mark mark = read.get();
        known.put(fleet, new Known(before, mark));
        return mark;
    }
}
