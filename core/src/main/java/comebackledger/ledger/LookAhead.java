package comebackledger.ledger;

/**
 * Work that goes on beside the questions: looking at every unit of a fleet once all was forgotten, so that the first question about a unit costs no more than
 * the next. At most a twentieth of one processor over time, however often all is forgotten.
 */
final class LookAhead {
    private static final System.Logger LOG = System.getLogger(LookAhead.class.getName());
    private static final long REST_TIMES = 20;

    private volatile boolean due;
    private boolean running;
    private long notBeforeNs = System.nanoTime();

    /** All was forgotten. */
    void due() {
        due = true;
    }

    /** On a thread of its own, that no shutdown waits for and that leaves the processors to the questions; nothing where none is due, or it is too early. */
    void begin(Runnable work) {
        if (due && isFree()) {
            Thread.ofPlatform().daemon().name("readiness-ahead").priority(Thread.MIN_PRIORITY).start(() -> run(work));
        }
    }

    private synchronized boolean isFree() {
        if (running || !due || System.nanoTime() - notBeforeNs < 0) {
            return false;
        }
        running = true;
        due = false;
        return true;
    }

    private void run(Runnable work) {
        long from = System.nanoTime();
        try {
            work.run();
        } catch (RuntimeException e) {
            // A store that closes meanwhile ends it; a question finds out by itself what is wrong with a unit.
            LOG.log(System.Logger.Level.DEBUG, "Units are looked at when they are asked about.", e);
        } finally {
            ended(System.nanoTime() - from);
        }
    }

    private synchronized void ended(long tookNs) {
        running = false;
        notBeforeNs = System.nanoTime() + REST_TIMES * tookNs;
    }
}
