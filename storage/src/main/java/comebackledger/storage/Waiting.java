package comebackledger.storage;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.ToLongFunction;

/** Rows of one table on their way out: they wait to leave as one JDBC batch. */
final class Waiting<R> {
    private static final int MOST_ROWS = 1_000; // common practice, no source
    private static final long MOST_CHARACTERS = 4_000_000; // four visits of the largest size, so that an import stays in a small heap

    private final ToLongFunction<R> size;
    private final Consumer<List<R>> out;
    private final List<R> rows = new ArrayList<>();
    private long characters;

    Waiting(ToLongFunction<R> size, Consumer<List<R>> out) {
        this.size = size;
        this.out = out;
    }

    void add(R row) {
        rows.add(row);
        characters += size.applyAsLong(row);
        if (rows.size() >= MOST_ROWS || characters >= MOST_CHARACTERS) {
            flush();
        }
    }

    List<R> rows() {
        return rows;
    }

    void flush() {
        if (!rows.isEmpty()) {
            out.accept(rows);
            rows.clear();
            characters = 0;
        }
    }
}
