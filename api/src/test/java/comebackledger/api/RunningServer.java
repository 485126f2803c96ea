package comebackledger.api;

import comebackledger.api.caller.Callers;
import comebackledger.api.http.Route;
import io.helidon.webserver.WebServer;
import java.util.List;

/** Our own server on a free port, for tests that send real HTTP. */
final class RunningServer implements AutoCloseable {
    private final LedgerService service;
    private final WebServer server;

    RunningServer(List<Route> stored, Callers callers) {
        service = new LedgerService(stored, callers);
        server = HttpServer.start("127.0.0.1", 0, false, service, () -> true);
    }

    int port() {
        return server.port();
    }

    @Override
    public void close() {
        server.stop();
        service.close();
    }
}
