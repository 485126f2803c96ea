package comebackledger.api;

import comebackledger.api.caller.Callers;
import comebackledger.api.http.Route;
import comebackledger.api.route.StoredRoutes;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Store;
import comebackledger.openapi.LedgerCodec;
import comebackledger.storage.JdbcStore;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;

/** Our own server over a ledger in a file, on a free port. */
final class RunningLedger implements AutoCloseable {
    private final Store store;
    private final RunningServer server;
    private final List<Route> routes;

    RunningLedger(Path folder, Callers callers) {
        store = JdbcStore.embedded(folder);
        Ledger ledger = new Ledger(store, new LedgerCodec(), InstantSource.system(), (_, _, _, _) -> {});
        routes = StoredRoutes.of(ledger);
        server = new RunningServer(routes, callers);
    }

    List<Route> routes() {
        return routes;
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
