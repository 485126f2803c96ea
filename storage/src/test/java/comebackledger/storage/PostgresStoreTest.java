package comebackledger.storage;

import comebackledger.ledger.Store;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;

/** The contract on a real PostgreSQL server. */
class PostgresStoreTest extends RaceContract {
    private static JdbcStore store;

    @BeforeAll
    static void open() {
        store = JdbcStore.postgres(PostgresServer.url("contract"), PostgresServer.USER, PostgresServer.USER);
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
