package comebackledger.storage;

import java.nio.file.Path;

import comebackledger.ledger.Store;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;

/** The contract on the embedded engine, in a file. */
class H2StoreTest extends RaceContract {
    @TempDir
    static Path folder;
    private static JdbcStore store;

    @BeforeAll
    static void open() {
        store = JdbcStore.embedded(folder);
    }

    @AfterAll
    static void close() {
        store.close();
    }

    @Override
    Store store() {
        return store;
    }
}
