package comebackledger.api.transfer;

import comebackledger.ledger.Caller;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.TransferDesk;
import comebackledger.ledger.TransferLine;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

/**
 * Decoded lines on their way into the store, in a few lanes at once: every unit's lines in one lane, and so in their order. A lane stores one batch while
 * the next fills; a full one waits, so that what is held stays bounded.
 */
final class ImportLanes implements AutoCloseable {
    /**
     * Lines and bytes of one transaction: enough to share its cost, little enough to hold and to lock. With four times as many, an embedded engine writes
     * pages of the unfinished transaction, and again at its commit: a third more time, twice the collector's.
     */
    static final int LINES_A_BATCH = 500;
    private static final int BYTES_A_BATCH = 1 << 20;

    /** One for each processor, up to what the writers of one store gain from; common practice, no source. */
    private static final int LANES = Math.clamp(Runtime.getRuntime().availableProcessors(), 1, 4);

    /** @param numbers of the lines in the import that it came from */
    record Numbered(List<Long> numbers, TransferLine line, int bytes) {}

    private final TransferDesk desk;
    private final Caller caller;
    private final ImportTally tally;
    private final ExecutorService threads = Executors.newFixedThreadPool(LANES, Thread.ofPlatform().daemon().name("import-", 0).factory());
    private final List<Lane> lanes = new ArrayList<>();

    ImportLanes(Ledger ledger, Caller caller, ImportTally tally) {
        this.desk = new TransferDesk(ledger);
        this.caller = caller;
        this.tally = tally;
        for (int i = 0; i < LANES; i++) {
            lanes.add(new Lane());
        }
    }

    private void store(List<Numbered> batch) {
        List<TransferDesk.Taken> taken = desk.take(caller, batch.stream().map(Numbered::line).toList());
        for (int i = 0; i < taken.size(); i++) {
            List<Long> numbers = batch.get(i).numbers();
            switch (taken.get(i)) {
                case ACCEPTED -> tally.accept(numbers.size());
                case UNCHANGED -> tally.leave(numbers.size());
                case CONFLICT -> numbers.forEach(number -> tally.reject(number, new Problem(Slug.CONFLICT,
                        "Other content is kept under this name. To replace it, send the line with the next revision, or use `PUT` with `If-Match`.")));
                case UNIT_UNKNOWN -> numbers.forEach(number -> tally.reject(number, new Problem(Slug.UNIT_UNKNOWN,
                        "The unit of this visit is not registered. Send its line before.")));
            }
        }
    }

    /** @throws RuntimeException what storing an earlier batch of the unit's lane threw */
    void add(String unit, Numbered line) {
        lanes.get(Math.floorMod(unit.hashCode(), lanes.size())).add(line);
    }

    /** After all lines before it, before all lines after it. */
    void addAlone(Numbered line) {
        lanes.forEach(Lane::settle);
        store(List.of(line));
    }

    /** Stores what waits. @throws RuntimeException what storing threw, after every lane came to its end */
    @Override
    public void close() {
        Optional<RuntimeException> failure = Optional.empty();
        for (Lane lane : lanes) {
            try {
                lane.settle();
            } catch (RuntimeException e) {
                failure = failure.or(() -> Optional.of(e));
            }
        }
        threads.shutdown();
        if (failure.isPresent()) {
            throw failure.get();
        }
    }

    private final class Lane {
        private List<Numbered> filling = new ArrayList<>();
        private long bytes;
        private Optional<Future<?>> storing = Optional.empty();

        void add(Numbered line) {
            filling.add(line);
            bytes += line.bytes();
            if (filling.size() >= LINES_A_BATCH || bytes >= BYTES_A_BATCH) {
                handOver();
            }
        }

        private void handOver() {
            await();
            if (!filling.isEmpty()) {
                List<Numbered> full = filling;
                filling = new ArrayList<>();
                bytes = 0;
                storing = Optional.of(threads.submit(() -> store(full)));
            }
        }

        /** Hands over what waits and sees it stored. */
        void settle() {
            handOver();
            await();
        }

        private void await() {
            boolean interrupted = false;
            while (storing.isPresent()) {
                try {
                    storing.get().get();
                    storing = Optional.empty();
                } catch (InterruptedException _) {
                    interrupted = true; // the batch is on its way to the disk; nothing is gained by leaving it
                } catch (ExecutionException e) {
                    storing = Optional.empty();
                    throw e.getCause() instanceof RuntimeException cause ? cause : new IllegalStateException("an import's lane ended", e.getCause());
                }
            }
            if (interrupted) {
                Thread.currentThread().interrupt();
            }
        }
    }
}
