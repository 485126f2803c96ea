package comebackledger.ledger;

import comebackledger.readiness.Readiness;
import comebackledger.readiness.ReadinessAnswer;
import java.time.Instant;
import java.util.Collections;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/**
 * What readiness said of the units of one fleet, whatever the trip, told again until something happens: each until its own end of validity, its unit's next
 * change, another policy or another baseline. It follows the change feed, so that what another process records counts too. Free to forget; what nobody asked
 * for since the last look goes first.
 */
final class KeptReadiness {
    /** Of one unit, with its place in the map: measured over fleets of 20 visits a unit. */
    private static final int BYTES_EACH = 1_000;
    /** A quarter of the heap, so that the smallest one still serves a large fleet; common practice, no source. */
    private static final int KEPT_AT_MOST = (int) Math.clamp(Runtime.getRuntime().maxMemory() / 4 / BYTES_EACH, 1_000, 2_000_000);
    /** Behind by more changes than this, all is forgotten rather than read. */
    private static final int CHANGES_AT_MOST = 1_000;

    private final Map<String, Kept> kept = new ConcurrentHashMap<>();
    private Iterator<Map.Entry<String, Kept>> hand = Collections.emptyIterator();
    private final Filling filling = new Filling();
    private volatile Stored.Mark at = new Stored.Mark(-1, 0);

    /** Told without a lock; only what is kept or forgotten waits for others. */
    private static final class Kept {
        private final Readiness readiness;
        private boolean asked; // a lost write costs one look at most

        Kept(Readiness readiness) {
            this.readiness = readiness;
        }
    }

    /** Forgets what changed between the last time and this view of the store. */
    void follow(Transaction tx, Stored.Mark now) {
        Stored.Mark from = at;
        if (now.position() <= from.position() && now.baseline() <= from.baseline()) {
            return;
        }
        boolean all = from.position() < 0 || now.baseline() != from.baseline() || now.position() - from.position() > CHANGES_AT_MOST;
        List<Stored.Change> changes = all ? List.of() : tx.changes(from.position(), CHANGES_AT_MOST);
        synchronized (this) {
            if (all || at.position() < from.position()) {
                clear();
            }
            for (Stored.Change change : changes) {
                change.unit().ifPresentOrElse(kept::remove, this::clear); // without a unit it is the policy
            }
            if (now.position() >= at.position() && now.baseline() >= at.baseline()) {
                at = now;
            }
        }
    }

    private void clear() {
        kept.clear();
        filling.due();
    }

    /** Begins to look at the units that nobody asked about yet, where all was forgotten since the last time. */
    void fill(Runnable work) {
        filling.begin(work);
    }

    boolean holds(String unit, Instant now) {
        Kept one = kept.get(unit);
        return one != null && one.readiness.holdsUntil().isAfter(now);
    }

    boolean hasRoom() {
        return kept.size() < KEPT_AT_MOST;
    }

    /** As it was first told, while it holds. */
    Optional<ReadinessAnswer> find(DispatchDesk.Question question, Instant now) {
        Kept one = kept.get(question.unit());
        if (one == null || one.readiness.at().isAfter(now) || !one.readiness.holdsUntil().isAfter(now)) {
            return Optional.empty();
        }
        one.asked = true;
        return Optional.of(one.readiness.answer(question.trip())).filter(answer -> answer.validUntil().isAfter(now));
    }

    /** @param madeAt what it was made from; nothing is kept of a view that others have passed */
    synchronized void keep(Readiness readiness, Stored.Mark madeAt) {
        if (!madeAt.equals(at)) {
            return;
        }
        kept.put(readiness.unit(), new Kept(readiness));
        while (kept.size() > KEPT_AT_MOST) {
            hand = hand.hasNext() ? hand : kept.entrySet().iterator();
            Map.Entry<String, Kept> next = hand.next();
            if (next.getValue().asked) {
                next.getValue().asked = false;
            } else {
                kept.remove(next.getKey());
            }
        }
    }
}
