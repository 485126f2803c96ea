package comebackledger.api.command;

import java.time.Duration;
import java.util.Optional;

/** Says on the error stream how far long work is: twice a second at most, and at the end. */
final class ProgressLine implements AutoCloseable {
    private static final long EVERY_NANOS = Duration.ofMillis(500).toNanos();

    private final String verb;
    private final boolean rewritten = System.console() != null;
    private long last = System.nanoTime();
    private Optional<String> now = Optional.empty();
    private boolean shown;

    ProgressLine(String verb) {
        this.verb = verb;
    }

    void show(String progress) {
        now = Optional.of(progress);
        if (System.nanoTime() - last > EVERY_NANOS) {
            last = System.nanoTime();
            print(progress);
        }
    }

    private void print(String progress) {
        if (rewritten) {
            System.err.print("\r" + verb + ": " + progress + "   ");
            shown = true;
        } else {
            System.err.println(verb + ": " + progress);
        }
    }

    @Override
    public void close() {
        now.ifPresent(this::print);
        if (shown) {
            System.err.println();
        }
    }
}
