package comebackledger.openapi.row;

import comebackledger.Require;
import comebackledger.trail.History;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * A history in a row: its beginning in pieces of so many entries, each beside the one before it in its piece, and then the newest. Pieces that came from a
 * row go into the next one as the bytes they were, and are read only if somebody asks for their entries: a unit with a long history is kept again at every
 * visit. The same history makes the same bytes, whichever way it came.
 */
final class HistoryRow<E> {
    /** Few enough to read and write at every visit, many enough that a piece's first entry, beside which nothing stands, weighs little. */
    private static final int A_PIECE = 32;
    private static final byte[] NO_BYTES = {};

    /** @param <E> an entry, beside the one before it */
    interface Entry<E> {
        void write(Optional<E> before, E entry, RowOut out);
    }

    /** Likewise. */
    interface Reading<E> {
        E read(Optional<E> before, RowIn in);
    }

    private final Entry<E> entry;
    private final Reading<E> reading;

    HistoryRow(Entry<E> entry, Reading<E> reading) {
        this.entry = entry;
        this.reading = reading;
    }

    void write(History<E> history, RowOut out) {
        byte[] kept = NO_BYTES;
        List<E> left = history;
        if (history.settled() instanceof Pieces<E> pieces) {
            kept = pieces.bytes;
            left = history.newest();
        }
        int whole = left.size() / A_PIECE * A_PIECE;
        byte[] more = whole == 0 ? NO_BYTES : pieces(left.subList(0, whole));
        out.count(history.size());
        out.count(kept.length + more.length);
        out.bytes(kept);
        out.bytes(more);
        write(left.subList(whole, left.size()), out);
    }

    private byte[] pieces(List<E> entries) {
        RowOut out = new RowOut();
        for (int from = 0; from < entries.size(); from += A_PIECE) {
            write(entries.subList(from, from + A_PIECE), out);
        }
        return out.bytes();
    }

    private void write(List<E> entries, RowOut out) {
        out.besideNothing();
        Optional<E> before = Optional.empty();
        for (E one : entries) {
            entry.write(before, one, out);
            before = Optional.of(one);
        }
    }

    History<E> read(RowIn in) {
        int size = in.size();
        int settled = size - size % A_PIECE;
        byte[] pieces = in.bytes(in.size());
        Require.that(settled == 0 ? pieces.length == 0 : pieces.length >= settled, "%s entries can not have %s bytes", settled, pieces.length);
        return new History<>(new Pieces<>(this, pieces, settled), entries(size - settled, in));
    }

    private List<E> entries(int size, RowIn in) {
        in.besideNothing();
        List<E> entries = new ArrayList<>(size);
        Optional<E> before = Optional.empty();
        for (int i = 0; i < size; i++) {
            E one = reading.read(before, in);
            entries.add(one);
            before = Optional.of(one);
        }
        return entries;
    }

    /** All of them from a row; the row's checksum was that of its writer. */
    private static final class Pieces<E> implements History.Settled<E> {
        private final HistoryRow<E> row;
        private final byte[] bytes;
        private final int size;
        private @Nullable List<E> entries;

        Pieces(HistoryRow<E> row, byte[] bytes, int size) {
            this.row = row;
            this.bytes = bytes;
            this.size = size;
        }

        @Override
        public int size() {
            return size;
        }

        /** Two threads that ask at once read them twice, and alike. */
        @Override
        public List<E> entries() {
            List<E> known = entries;
            if (known == null) {
                known = RowIn.part(bytes, in -> {
                    List<E> all = new ArrayList<>(size);
                    for (int from = 0; from < size; from += A_PIECE) {
                        all.addAll(row.entries(A_PIECE, in));
                    }
                    return List.copyOf(all);
                });
                entries = known;
            }
            return known;
        }
    }
}
