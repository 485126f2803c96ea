package comebackledger.ledger;

import comebackledger.readiness.ReadinessAnswer;
import java.time.Instant;
import java.util.Collection;
import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * Dispatch answers of one fleet, told again until something happens: each until its own end of validity, its unit's next change, another policy or another
 * baseline. It follows the change feed, so that what another process records counts too. Free to forget; the longest unasked go first.
 */
final class KeptReadiness {
    /** Of an answer with what a host made of it. */
    private static final int BYTES_EACH = 2_048;
    /** An eighth of the heap, so that the smallest one still serves a large fleet; common practice, no source. */
    private static final int KEPT_AT_MOST = (int) Math.clamp(Runtime.getRuntime().maxMemory() / 8 / BYTES_EACH, 1_000, 500_000);
    /** Behind by more changes than this, all is forgotten rather than read. */
    private static final int CHANGES_AT_MOST = 1_000;

    private final Map<DispatchDesk.Question, DispatchDesk.Told> kept = new LinkedHashMap<>(16, 0.75f, true);
    private final Map<String, Collection<DispatchDesk.Question>> ofUnit = new HashMap<>();
    private Stored.Mark at = new Stored.Mark(-1, 0);

    /** Forgets what changed between the last time and this view of the store. */
    void follow(Transaction tx, Stored.Mark now) {
        synchronized (this) {
            if (now.position() <= at.position() && now.baseline() <= at.baseline()) {
                return;
            }
        }
        Stored.Mark from = mark();
        boolean all = from.position() < 0 || now.baseline() != from.baseline() || now.position() - from.position() > CHANGES_AT_MOST;
        Iterable<Stored.Change> changes = all ? java.util.List.of() : tx.changes(from.position(), CHANGES_AT_MOST);
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

    private synchronized Stored.Mark mark() {
        return at;
    }

    private void clear() {
        kept.clear();
        ofUnit.clear();
    }

    private void forget(String unit) {
        Optional.ofNullable(ofUnit.remove(unit)).ifPresent(questions -> questions.forEach(kept::remove));
    }

    synchronized Optional<DispatchDesk.Told> find(DispatchDesk.Question question, Instant now) {
        return Optional.ofNullable(kept.get(question)).filter(told -> told.answer().validUntil().isAfter(now) && !told.answer().at().isAfter(now));
    }

    /** @param madeAt what the answer was made from; nothing is kept of a view that others have passed */
    synchronized void keep(DispatchDesk.Question question, DispatchDesk.Told told, Stored.Mark madeAt) {
        if (!madeAt.equals(at)) {
            return;
        }
        kept.put(question, told);
        ofUnit.computeIfAbsent(question.unit(), _ -> new java.util.LinkedHashSet<>(2)).add(question);
        Iterator<DispatchDesk.Question> oldest = kept.keySet().iterator();
        while (kept.size() > KEPT_AT_MOST) {
            DispatchDesk.Question gone = oldest.next();
            oldest.remove();
            ofUnit.computeIfPresent(gone.unit(), (_, questions) -> questions.remove(gone) && questions.isEmpty() ? null : questions);
        }
    }
}
