package comebackledger.storage;

import java.io.IOException;

import comebackledger.ledger.Store;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;

/** The contract on a real PostgreSQL server; if it does not start, the build fails. */
class PostgresStoreTest extends RaceContract {
    private static EmbeddedPostgres server;
    private static JdbcStore store;

    @BeforeAll
    static void open() throws IOException {
        server = EmbeddedPostgres.builder().start();
        store = JdbcStore.postgres(server.getJdbcUrl("postgres", "postgres"), "postgres", "postgres");
    }

    @AfterAll
    static void close() throws IOException {
        store.close();
        server.close();
    }

    @Override
    Store store() {
        return store;
    }
}
