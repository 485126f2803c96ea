package comebackledger.api.http;

import java.time.Duration;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;

/**
 * Ends a wait for the caller's bytes that lasts too long: the server itself would hold a half-sent body open for ever.
 *
 * <p>The thread is interrupted, which closes the connection it waits on. It is armed only around reads from and writes to the caller, because an
 * interrupt inside the embedded engine would close its file. {@link Watch#close} and the interrupt exclude each other, so none arrives late.
 */
final class Watchdog implements AutoCloseable {
    private static final Duration LOOK_EVERY = Duration.ofMillis(250);

    private final Set<Watch> watches = ConcurrentHashMap.newKeySet();
    private final Thread looker = Thread.ofPlatform().daemon().name("watchdog").unstarted(this::look);

    Watchdog() {
        looker.start();
    }

    Watch watch(Duration atMost) {
        Watch watch = new Watch(Thread.currentThread(), System.nanoTime() + atMost.toNanos());
        watches.add(watch);
        return watch;
    }

    private void look() {
        try {
            while (true) {
                Thread.sleep(LOOK_EVERY);
                long now = System.nanoTime();
                watches.forEach(watch -> watch.endIfLate(now));
            }
        } catch (InterruptedException e) {
            watches.clear();
        }
    }

    @Override
    public void close() {
        looker.interrupt();
    }

    final class Watch implements AutoCloseable {
        private final Thread thread;
        private final long until;
        private boolean over;
        private boolean late;

        private Watch(Thread thread, long until) {
            this.thread = thread;
            this.until = until;
        }

        private synchronized void endIfLate(long now) {
            if (!over && !late && now - until > 0) {
                late = true;
                thread.interrupt();
            }
        }

        @Override
        public synchronized void close() {
            over = true;
            watches.remove(this);
            if (late) {
                // Ours, and answered by the closed connection: the thread goes on to other work.
                Thread.interrupted();
            }
        }
    }
}
