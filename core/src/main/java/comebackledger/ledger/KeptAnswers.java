package comebackledger.ledger;

import java.lang.ref.SoftReference;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.locks.Lock;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Supplier;

/**
 * Answers that cost a reading of the whole fleet, kept so that not every question and not every visit costs one. Free to forget, and gives them up before
 * memory runs out.
 *
 * <p>An answer that was cheap is made again whenever anything changed. A dear one is told again, with the instant that it is of, until it is
 * {@value #TIMES_ITS_COST} times as old as it took to make: whatever the fleet's size and however many visits come in, one such question costs a bounded
 * share of one processor.
 */
final class KeptAnswers {
    private static final int KEPT = 64;
    private static final int TIMES_ITS_COST = 20; // a twentieth of one processor for each question that is asked all the time; common practice, no source
    private static final Duration CHEAP = Duration.ofSeconds(2); // not worth an old answer; common practice, no source
    private static final Duration KEPT_AT_MOST = Duration.ofMinutes(15); // distance and days go on while nothing is recorded; common practice, no source

    /** What the fleet's rows were at; another is another answer. */
    record Standing(Stored.Mark mark, int policyVersion) {}

    private record Kept(PlannerDesk.Answer<?> answer, Standing standing, Instant madeAt, Duration cost) {
        boolean serves(Standing now, Instant at) {
            Duration age = Duration.between(madeAt, at);
            boolean sameRules = standing.policyVersion() == now.policyVersion();
            boolean young = age.compareTo(KEPT_AT_MOST) < 0;
            boolean dear = cost.compareTo(CHEAP) > 0 && age.compareTo(cost.multipliedBy(TIMES_ITS_COST)) < 0;
            return sameRules && young && !age.isNegative() && (standing.equals(now) || dear);
        }
    }

    private final Map<Object, SoftReference<Kept>> kept = new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Object, SoftReference<Kept>> eldest) {
            return size() > KEPT;
        }
    };
    private final Map<Object, Lock> making = new ConcurrentHashMap<>();

    /**
     * The kept answer, or a new one; of several who ask the same at once, one makes it and the others wait for it.
     *
     * @param question with the fleet, the kind of answer and all that it was asked with
     * @param standing as it is now
     */
    @SuppressWarnings("unchecked") // the question names the kind of answer
    <T> PlannerDesk.Answer<T> answer(Object question, Supplier<Standing> standing, InstantSource clock, Supplier<PlannerDesk.Answer<T>> make) {
        Lock lock = making.computeIfAbsent(question, _ -> new ReentrantLock());
        lock.lock();
        try {
            Standing now = standing.get();
            Instant from = clock.instant();
            Optional<Kept> known = find(question).filter(one -> one.serves(now, from));
            if (known.isPresent()) {
                return (PlannerDesk.Answer<T>) known.get().answer();
            }
            PlannerDesk.Answer<T> made = make.get();
            keep(question, new Kept(made, now, from, Duration.between(from, clock.instant())));
            return made;
        } finally {
            lock.unlock();
            making.remove(question, lock);
        }
    }

    private Optional<Kept> find(Object question) {
        synchronized (kept) {
            return Optional.ofNullable(kept.get(question)).flatMap(reference -> Optional.ofNullable(reference.get()));
        }
    }

    private void keep(Object question, Kept answer) {
        synchronized (kept) {
            kept.put(question, new SoftReference<>(answer));
        }
    }
}
