package comebackledger.ledger;

import comebackledger.fleet.Offenders;
import comebackledger.trail.UnitSummary;
import java.lang.ref.SoftReference;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Consumer;
import java.util.function.Function;

/**
 * Of one fleet, what the ranking of offenders reads of each unit, kept between questions, so that another question reads only the units that changed since.
 * It follows the change feed, as {@link KeptReadiness} does, so that what another process records counts too. Free to forget: it is given up before memory
 * runs out, and not kept at all where it would take more than a seventh of the heap.
 */
final class KeptRows {
    private static final long MOST_BYTES = Runtime.getRuntime().maxMemory() / 7; // common practice, no source
    /** Of a unit beside the bytes of its row: two references, the heads of an array and of a text, and its identifier. */
    private static final int BYTES_BESIDE = 72;
    /** Behind by more changes than this, all is read again. */
    private static final int CHANGES_AT_MOST = 1_000;

    private static final class Rows {
        private final int policyVersion;
        /** In order, and the row of each. */
        private String[] units;
        private byte[][] rows;
        private Stored.Mark at;

        Rows(Stored.Mark at, int policyVersion, SortedMap<String, byte[]> rows) {
            this.at = at;
            this.policyVersion = policyVersion;
            this.units = rows.keySet().toArray(String[]::new);
            this.rows = rows.values().toArray(byte[][]::new);
        }

        void put(SortedMap<String, byte[]> changed, Stored.Mark now) {
            SortedMap<String, byte[]> added = new TreeMap<>();
            changed.forEach((unit, row) -> {
                int place = Arrays.binarySearch(units, unit);
                if (place >= 0) {
                    rows[place] = row;
                } else {
                    added.put(unit, row);
                }
            });
            if (!added.isEmpty()) {
                for (int i = 0; i < units.length; i++) {
                    added.put(units[i], rows[i]);
                }
                units = added.keySet().toArray(String[]::new);
                rows = added.values().toArray(byte[][]::new);
            }
            at = now;
        }
    }

    private final Codec codec;
    private SoftReference<Rows> kept = new SoftReference<>(null);

    KeptRows(Codec codec) {
        this.codec = codec;
    }

    /**
     * Gives the row of each unit once, by identifier. Of several questions at once, one reads the fleet.
     *
     * @param policyVersion a row made under another is stale, as one that cannot be read
     * @param stale what stands in for such a row; nothing is kept of a reading that met one
     */
    synchronized void each(Transaction tx, int policyVersion, Function<Stored.Summary, Optional<UnitSummary>> stale, Consumer<UnitSummary> use) {
        Stored.Mark now = tx.mark();
        Optional<Rows> known = Optional.ofNullable(kept.get()).filter(rows -> rows.policyVersion == policyVersion && follow(rows, tx, now));
        if (known.isEmpty()) {
            read(tx, now, policyVersion, stale, use);
            return;
        }
        for (byte[] row : known.get().rows) {
            use.accept(codec.decode(row, UnitSummary.class));
        }
    }

    /** Brings rows to a view of the store. @return false where all is to be read: the view is an older one, or too much changed */
    private boolean follow(Rows rows, Transaction tx, Stored.Mark now) {
        long behind = now.position() - rows.at.position();
        if (behind < 0 || behind > CHANGES_AT_MOST) {
            return false;
        }
        SortedMap<String, byte[]> changed = new TreeMap<>();
        for (Stored.Change change : behind == 0 ? List.<Stored.Change>of() : tx.changes(rows.at.position(), CHANGES_AT_MOST)) {
            if (change.unit().isPresent() && !changed.containsKey(change.unit().get())) {
                Optional<Stored.Fold> fold = tx.fold(change.unit().get()).filter(one -> one.policyVersion() == rows.policyVersion);
                if (fold.isEmpty()) {
                    return false;
                }
                changed.put(change.unit().get(), shortened(codec.decode(fold.get().summary(), UnitSummary.class)));
            }
        }
        rows.put(changed, now);
        return true;
    }

    private void read(Transaction tx, Stored.Mark now, int policyVersion, Function<Stored.Summary, Optional<UnitSummary>> stale,
            Consumer<UnitSummary> use) {
        SortedMap<String, byte[]> read = new TreeMap<>();
        AtomicLong bytes = new AtomicLong();
        tx.eachSummary(row -> {
            Optional<UnitSummary> sound = CompactRows.sound(codec, row, policyVersion);
            if (sound.isEmpty()) {
                bytes.set(MOST_BYTES);
                stale.apply(row).ifPresent(use);
                return;
            }
            UnitSummary summary = sound.get();
            use.accept(summary);
            if (bytes.get() < MOST_BYTES) {
                byte[] shortened = shortened(summary);
                bytes.addAndGet(shortened.length + BYTES_BESIDE);
                read.put(row.unit(), shortened);
            } else {
                read.clear();
            }
        });
        boolean newer = Optional.ofNullable(kept.get()).filter(rows -> rows.at.position() > now.position()).isEmpty();
        if (newer) {
            kept = new SoftReference<>(bytes.get() < MOST_BYTES ? new Rows(now, policyVersion, read) : null);
        }
    }

    private byte[] shortened(UnitSummary row) {
        return codec.encode(Offenders.needed(row));
    }
}
