package comebackledger.ledger;

import comebackledger.baseline.Baseline;
import comebackledger.fleet.FleetRows;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicLong;

/**
 * What a fleet teaches: learned when asked, on a schedule, and when much was recorded since; each version is kept and cited. A question costs no work that
 * grows with the fleet, but the first one ever and the first after the fleet's visits grew by half.
 */
public final class BaselineDesk {
    /** Growth below this teaches little, whatever the fleet's size (common practice, no source). */
    private static final long VISITS_MORE_AT_LEAST = 20;

    private final Ledger ledger;
    private final CompactRows rows;
    private final Duration every;
    /** The newest version that was read, decoded. */
    private final Map<String, Baseline> newest = new ConcurrentHashMap<>();
    private final Map<String, AtomicLong> recordedSince = new ConcurrentHashMap<>();
    private final Set<String> learning = ConcurrentHashMap.newKeySet();

    BaselineDesk(Ledger ledger, CompactRows rows, Duration every) {
        this.ledger = ledger;
        this.rows = rows;
        this.every = every;
    }

    /** Learns from everything recorded. @return the new version; empty for a fleet without units */
    public Optional<Baseline> learn(String fleet) {
        AtomicLong recorded = recorded(fleet);
        long counted = recorded.get();
        Baseline learned = rows.read(fleet, (tx, policy, stale) -> {
            FleetRows all = rows.stored(tx, policy, stale);
            return Baseline.learn(all::each, ledger.now());
        });
        if (learned.units() == 0) {
            return Optional.empty();
        }
        Baseline kept = ledger.store().write(fleet, tx -> {
            tx.lock(new TreeSet<>(Set.of(Ledger.POLICY_LOCK)));
            Baseline numbered = learned.kept(tx.baseline().map(Stored.BaselineVersion::version).orElse(0) + 1, ledger.now());
            tx.append(new Stored.BaselineVersion(numbered.version(), numbered.learnedAt(), ledger.codec().encode(numbered)));
            return numbered;
        });
        recorded.addAndGet(-counted);
        newest.put(fleet, kept);
        return Optional.of(kept);
    }

    /**
     * Learns for every fleet whose newest baseline is older than the schedule; what a timer calls now and then. A fleet that nobody asked about yet is left
     * alone: its first question learns, and until then an export of it stays what was imported.
     */
    public void learnWherePlanned() {
        for (String fleet : ledger.store().fleets()) {
            if (ledger.store().read(fleet, tx -> newest(tx, fleet)).filter(this::overdue).isPresent()) {
                learnIfDue(fleet);
            }
        }
    }

    /** Learns if none was learned yet, if the newest is older than the schedule, or if the fleet's visits grew by half. */
    public void learnIfDue(String fleet) {
        if (due(fleet) && learning.add(fleet)) {
            try {
                learn(fleet);
            } finally {
                learning.remove(fleet);
            }
        }
    }

    private boolean due(String fleet) {
        Optional<Baseline> known = Optional.ofNullable(newest.get(fleet)).filter(baseline -> !grown(fleet, baseline) && !overdue(baseline));
        if (known.isPresent()) {
            return false;
        }
        Optional<Baseline> kept = ledger.store().read(fleet, tx -> newest(tx, fleet));
        return kept.isEmpty() || grown(fleet, kept.get()) || overdue(kept.get());
    }

    private boolean grown(String fleet, Baseline baseline) {
        return recorded(fleet).get() >= Math.max(VISITS_MORE_AT_LEAST, (baseline.visits() + baseline.units()) / 2);
    }

    private boolean overdue(Baseline baseline) {
        return !ledger.now().isBefore(planned(baseline));
    }

    /** When the next is learned by the schedule. */
    Instant planned(Baseline baseline) {
        return baseline.learnedAt().plus(every);
    }

    /** Counts recorded visits. */
    void recordedVisits(String fleet, long more) {
        recorded(fleet).addAndGet(more);
    }

    private AtomicLong recorded(String fleet) {
        return recordedSince.computeIfAbsent(fleet, _ -> new AtomicLong());
    }

    Optional<Baseline> newest(Transaction tx, String fleet) {
        return tx.baseline().map(row -> decoded(fleet, row));
    }

    /** @param mark of the transaction's view */
    Optional<Baseline> asKnown(Transaction tx, String fleet, Stored.Mark mark, Instant at) {
        Baseline known = newest.get(fleet);
        if (known != null && !known.learnedAt().isAfter(at) && mark.baseline() == known.version()) {
            return Optional.of(known);
        }
        return tx.baselineAsKnown(at).map(row -> decoded(fleet, row));
    }

    private Baseline decoded(String fleet, Stored.BaselineVersion row) {
        Baseline kept = newest.get(fleet);
        if (kept != null && kept.version() == row.version() && kept.learnedAt().equals(row.learnedAt())) {
            return kept;
        }
        Baseline read = ledger.codec().decode(row.content(), Baseline.class);
        newest.merge(fleet, read, (one, other) -> one.version() > other.version() ? one : other);
        return read;
    }
}
