package comebackledger.api;

import comebackledger.ledger.BaselineDesk;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;

/** Looks now and then whether a fleet's next baseline is planned for by now, so that questions seldom have to wait for one. */
final class BaselineSchedule implements AutoCloseable {
    private static final System.Logger LOG = System.getLogger(BaselineSchedule.class.getName());
    private static final long FIRST_SECONDS = 10;
    private static final long EVERY_SECONDS = 600;
    private static final long END_SECONDS = 10;

    private final BaselineDesk baselines;
    private final ScheduledExecutorService thread = Executors
            .newSingleThreadScheduledExecutor(Thread.ofPlatform().daemon().name("baseline").factory());

    BaselineSchedule(BaselineDesk baselines) {
        this.baselines = baselines;
    }

    void start() {
        thread.scheduleWithFixedDelay(this::look, FIRST_SECONDS, EVERY_SECONDS, TimeUnit.SECONDS);
    }

    private void look() {
        try {
            baselines.learnWherePlanned();
        } catch (RuntimeException e) {
            // A schedule that throws never runs again; the next look may find the store back.
            LOG.log(System.Logger.Level.WARNING, "the baseline could not be learned; it is tried again in " + EVERY_SECONDS + " s", e);
        }
    }

    /** Waits for a look that is under way, so that the store is not closed beneath it. */
    @Override
    public void close() {
        thread.shutdown();
        try {
            if (!thread.awaitTermination(END_SECONDS, TimeUnit.SECONDS)) {
                thread.shutdownNow();
            }
        } catch (InterruptedException e) {
            thread.shutdownNow();
            Thread.currentThread().interrupt();
        }
    }
}
