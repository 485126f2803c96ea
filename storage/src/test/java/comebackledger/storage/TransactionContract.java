package comebackledger.storage;

import static comebackledger.storage.Rows.NOON;
import static comebackledger.storage.Rows.noon;
import static comebackledger.storage.Rows.unit;
import static comebackledger.storage.Rows.units;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;
import java.util.function.ToIntFunction;

import comebackledger.ledger.Store;
import comebackledger.ledger.Transaction;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What a transaction must hold, on every engine; a subclass hands over the store. Each test has a fleet of its own. */
abstract class TransactionContract {
    private static final AtomicInteger FLEETS = new AtomicInteger();

    String fleet = "";

    abstract Store store();

    @BeforeEach
    void newFleet() {
        fleet = "fleet-" + FLEETS.incrementAndGet();
    }

    void write(Consumer<Transaction> work) {
        store().write(fleet, tx -> {
            work.accept(tx);
            return true;
        });
    }

    <T> T read(Store.Work<T> work) {
        return store().read(fleet, work);
    }

    int count(ToIntFunction<Transaction> counted) {
        return store().read(fleet, counted::applyAsInt);
    }

    @Test
    void write_whenTheWorkThrows_leavesNothing() {
        assertThrows(IllegalMonitorStateException.class, () -> write(tx -> {
            tx.append(unit("T-104", 1, NOON));
            tx.units(Optional.empty(), 10);
            throw new IllegalMonitorStateException("stop");
        }));

        assertEquals(Optional.empty(), read(tx -> tx.unit("T-104")));
        assertEquals(List.of(), read(tx -> tx.changes(0, 10)));
    }

    @Test
    void read_refusesToWrite() {
        assertThrows(IllegalArgumentException.class, () -> read(tx -> {
            tx.append(unit("T-104", 1, NOON));
            return true;
        }));
    }

    @Test
    void read_holdsOneViewWhileOthersWrite() {
        write(tx -> tx.append(unit("T-104", 1, NOON)));

        int versionsSeenLate = read(tx -> {
            tx.unit("T-104");
            write(other -> other.append(unit("T-104", 2, noon(1))));
            return tx.unitVersions("T-104").size();
        });

        assertEquals(1, versionsSeenLate);
        assertEquals(2, count(tx -> tx.unitVersions("T-104").size()));
    }

    @Test
    void lock_acceptsManyUnitsKnownAndNew() {
        write(tx -> tx.lock(units("b", "d")));
        write(tx -> {
            tx.lock(units("a", "b", "c", "d", "e"));
            tx.lock(units("a", "f"));
            tx.lock(units());
        });
        write(tx -> tx.lock(units("a", "b", "c", "d", "e", "f")));

        assertEquals(List.of(), read(tx -> tx.units(Optional.empty(), 10)), "a locked name is not a unit");
    }
}
