package comebackledger.storage;

import static comebackledger.storage.Rows.appendNext;
import static comebackledger.storage.Rows.units;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.TreeSet;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.IntStream;
import java.util.stream.LongStream;

import comebackledger.ledger.Stored;
import comebackledger.ledger.Transaction;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.Test;

/** The store's contract, and what it must keep when several write at once. */
abstract class RaceContract extends RunsContract {
    private static final long SEED = 20_260_301;

    /** Twenty rounds: a race that goes wrong once in four is missed once in 300 runs. */
    @RepeatedTest(20)
    void write_whenEightRaceForOneNewUnit_losesNoRevision() throws Exception {
        List<Integer> revisions = Race.of(8, _ -> () -> store().write(fleet, tx -> appendNext(tx, "T-104", "WO-1")));

        assertEquals(IntStream.rangeClosed(1, 8).boxed().toList(), revisions.stream().sorted().toList());
        assertEquals(8, count(tx -> tx.visitRevisions("T-104").size()));
        assertEquals(LongStream.rangeClosed(1, 8).boxed().toList(), read(tx -> tx.changes(0, 100).stream().map(Stored.Change::position).toList()));
    }

    @RepeatedTest(5)
    void write_whenEightPutDifferentVisitsOfOneUnit_keepsThemAll() throws Exception {
        Race.of(8, writer -> () -> {
            for (int i = 0; i < 5; i++) {
                String visit = "WO-" + writer + "-" + i;
                store().write(fleet, tx -> appendNext(tx, "T-104", visit));
            }
            return true;
        });

        assertEquals(40, count(tx -> tx.visits("T-104").size()));
    }

    /** Batches over the same units, each in its own order of work: sorted locks leave no circle, so no batch needs its third attempt. */
    @RepeatedTest(5)
    void write_whenBatchesShareUnits_losesNothing() throws Exception {
        SplittableRandom random = new SplittableRandom(SEED);
        List<List<String>> batches = IntStream.range(0, 8)
                .mapToObj(_ -> random.ints(12, 0, 20).mapToObj(i -> String.format("T-%02d", i)).distinct().toList()).toList();

        Race.of(8, writer -> () -> store().write(fleet, tx -> {
            tx.lock(new TreeSet<>(batches.get(writer)));
            batches.get(writer).forEach(unit -> appendNext(tx, unit, "WO-" + writer));
            return true;
        }));

        int expected = batches.stream().mapToInt(List::size).sum();
        int stored = count(tx -> IntStream.range(0, 20).map(i -> tx.visits(String.format("T-%02d", i)).size()).sum());
        assertEquals(expected, stored, "seed " + SEED);
    }

    /** Four write and four only ask: whoever asks after an acknowledged write hears of it. */
    @RepeatedTest(5)
    void mark_isNeverBehindAnAcknowledgedWrite() throws Exception {
        AtomicLong acknowledged = new AtomicLong();

        List<Boolean> behind = Race.of(8, member -> () -> {
            for (int i = 0; i < 40; i++) {
                if (member < 4) {
                    String visit = "WO-" + member + "-" + i;
                    store().write(fleet, tx -> appendNext(tx, "T-" + member, visit));
                    acknowledged.incrementAndGet();
                }
                long atLeast = acknowledged.get();
                if (store().mark(fleet).position() < atLeast) {
                    return true;
                }
            }
            return false;
        });

        assertEquals(List.of(), behind.stream().filter(one -> one).toList());
        assertEquals(read(Transaction::mark), store().mark(fleet));
        write(tx -> tx.append(new Stored.BaselineVersion(1, Rows.NOON, Rows.bytes("learned"))));
        assertEquals(new Stored.Mark(160, 1), store().mark(fleet));
        assertEquals(new Stored.Mark(0, 0), store().mark(fleet + "-other"));
    }

    @RepeatedTest(5)
    void lock_makesReadThenWriteOfOneUnitCountRight() throws Exception {
        Race.of(8, _ -> () -> {
            for (int i = 0; i < 10; i++) {
                store().write(fleet, tx -> {
                    tx.lock(units("T-104"));
                    int before = tx.fold("T-104").map(Stored.Fold::unitVersion).orElse(0);
                    tx.keepFold("T-104", new Stored.Fold(before + 1, 0, Optional.empty(), new byte[]{1}, new byte[0]));
                    return true;
                });
            }
            return true;
        });

        assertEquals(80, count(tx -> tx.fold("T-104").orElseThrow().unitVersion()));
    }

    /** Six writers, two readers that only follow the last position they saw; every position must reach each reader once and in order. */
    @Test
    void changes_whileSixWrite_reachAFollowingReaderOnceEach() throws Exception {
        int writers = 6;
        int each = 60;
        CountDownLatch writing = new CountDownLatch(writers);
        List<List<Long>> answers = Race.of(writers + 2, who -> who < writers ? writer(who, each, writing) : () -> follow(writing));

        List<Long> all = LongStream.rangeClosed(1, (long) writers * each).boxed().toList();
        assertEquals(all, answers.get(writers));
        assertEquals(all, answers.get(writers + 1));
    }

    private Callable<List<Long>> writer(int who, int each, CountDownLatch writing) {
        return () -> {
            try {
                for (int i = 0; i < each; i++) {
                    String visit = "WO-" + i;
                    store().write(fleet, tx -> appendNext(tx, "T-" + who, visit));
                }
            } finally {
                writing.countDown();
            }
            return List.of();
        };
    }

    private List<Long> follow(CountDownLatch writing) {
        List<Long> seen = new ArrayList<>();
        boolean last = false;
        while (true) {
            boolean quiet = writing.getCount() == 0;
            long after = seen.isEmpty() ? 0 : seen.getLast();
            List<Stored.Change> page = read(tx -> tx.changes(after, 7));
            page.forEach(change -> seen.add(change.position()));
            if (last && page.isEmpty()) {
                return seen;
            }
            last = quiet;
        }
    }
}
