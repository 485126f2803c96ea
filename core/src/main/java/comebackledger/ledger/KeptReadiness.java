package comebackledger.ledger;

import comebackledger.readiness.Readiness;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Trip;
import java.time.Instant;
import java.util.Collections;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/**
 * What readiness said of the units of one fleet, whatever the trip, told again until something happens: each until its own end of validity, its unit's next
 * change, another policy or another baseline. It follows the change feed, so that what another process records counts too. Free to forget: beyond its room
 * whichever comes next leaves, without a book of who was asked about when. Told without a lock; only what is kept or forgotten waits for others.
 */
final class KeptReadiness {
    /** Of one unit, with its place in the map: measured over a fleet of 20 visits a unit, each with a reason. */
    private static final int BYTES_EACH = 950;
    /** Of all fleets: three eighths of the heap, so that the smallest one, of 256 MiB, knows 100 000 units; common practice, no source. */
    static final int KEPT_AT_MOST = (int) Math.clamp(Runtime.getRuntime().maxMemory() * 3 / 8 / BYTES_EACH, 1_000, 2_000_000);
    /** Behind by more changes than this, all is forgotten rather than read. */
    private static final int CHANGES_AT_MOST = 1_000;

    /** Of one answer. */
    private static final int BYTES_TOLD = 512;
    /** A sixteenth of the heap; common practice, no source. */
    private static final int TOLD_AT_MOST = (int) Math.clamp(Runtime.getRuntime().maxMemory() / 16 / BYTES_TOLD, 1_000, 2_000_000);

    private final Map<String, Readiness> kept = new ConcurrentHashMap<>();
    /** The last answer of a unit, while there is room: who asks about a fleet asks for the same trip again. */
    private final Map<String, Told> told = new ConcurrentHashMap<>();
    private Iterator<String> leaving = Collections.emptyIterator();
    private final LookAhead lookAhead = new LookAhead();
    private volatile int room = KEPT_AT_MOST;
    private volatile Stored.Mark at = new Stored.Mark(-1, 0);

    /** Worth nothing once something else is kept of the unit. */
    private record Told(Readiness said, Trip trip, ReadinessAnswer answer) {}

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
                change.unit().ifPresentOrElse(this::forget, this::clear); // without a unit it is the policy
            }
            if (now.position() >= at.position() && now.baseline() >= at.baseline()) {
                at = now;
            }
        }
    }

    /** Whether it has followed the store as far as that. */
    boolean standsAt(Stored.Mark now) {
        Stored.Mark followed = at;
        return followed.position() >= now.position() && followed.baseline() >= now.baseline();
    }

    private void forget(String unit) {
        kept.remove(unit);
        told.remove(unit);
    }

    private void clear() {
        kept.clear();
        told.clear();
        lookAhead.due();
    }

    /** Begins to look at the units that nobody asked about yet, where all was forgotten since the last time. */
    void fill(Runnable work) {
        lookAhead.begin(work);
    }

    boolean holds(String unit, Instant now) {
        Readiness said = kept.get(unit);
        return said != null && said.holdsUntil().isAfter(now);
    }

    boolean hasRoom() {
        return kept.size() < room;
    }

    /** As it was first told, while it holds. */
    Optional<ReadinessAnswer> find(DispatchDesk.Question question, Instant now) {
        Readiness said = kept.get(question.unit());
        return said == null || said.at().isAfter(now) || !said.holdsUntil().isAfter(now)
                ? Optional.empty()
                : Optional.of(answer(said, question.trip())).filter(answer -> answer.validUntil().isAfter(now));
    }

    private ReadinessAnswer answer(Readiness said, Trip trip) {
        Told last = told.get(said.unit());
        if (last != null && last.said() == said && last.trip().equals(trip)) {
            return last.answer();
        }
        ReadinessAnswer answer = said.answer(trip);
        if (last != null || told.size() < toldAtMost()) {
            told.put(said.unit(), new Told(said, trip, answer));
        }
        return answer;
    }

    /** Its share of the room for answers, as of the room for units. */
    private int toldAtMost() {
        return (int) ((long) TOLD_AT_MOST * room / KEPT_AT_MOST);
    }

    /** @param madeAt what it was made from; nothing is kept of a view that others have passed */
    synchronized void keep(Readiness readiness, Stored.Mark madeAt) {
        if (!madeAt.equals(at)) {
            return;
        }
        kept.put(readiness.unit(), readiness);
        shrink();
    }

    /** @param units that may be kept from now on */
    synchronized void room(int units) {
        room = units;
        shrink();
    }

    private void shrink() {
        while (kept.size() > room) {
            leaving = leaving.hasNext() ? leaving : kept.keySet().iterator();
            forget(leaving.next());
        }
    }
}
