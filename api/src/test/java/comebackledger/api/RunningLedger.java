package comebackledger.api;

import comebackledger.ledger.Ledger;
import comebackledger.ledger.Store;
import comebackledger.openapi.LedgerCodec;
import comebackledger.storage.JdbcStore;
import java.nio.file.Path;
import java.time.InstantSource;

/** Our own server over a ledger in a file, on a free port. */
final class RunningLedger implements AutoCloseable {
    private final Store store;
    private final RunningServer server;

    RunningLedger(Path folder, Callers callers) {
        store = JdbcStore.embedded(folder);
        Ledger ledger = new Ledger(store, new LedgerCodec(), InstantSource.system(), (_, _, _, _) -> {});
        server = new RunningServer(StoredRoutes.of(ledger), callers);
    }

    int port() {
        return server.port();
    }

    @Override
    public void close() {
        server.close();
        store.close();
    }
}
