package comebackledger.api;

import io.helidon.webserver.WebServer;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;

/** The service as one process runs it: settings checked, store open, server listening; all closed in the opposite order. */
final class RunningService implements AutoCloseable {
    private static final System.Logger LOG = System.getLogger(RunningService.class.getName());

    private final Settings settings;
    private final LedgerService routes;
    private final WebServer server;
    private final CountDownLatch end = new CountDownLatch(1);

    private RunningService(Settings settings, LedgerService routes, WebServer server) {
        this.settings = settings;
        this.routes = routes;
        this.server = server;
    }

    /** @throws Settings.Refused if it would be reachable without credentials, or a setting is not possible */
    static RunningService start(Settings settings) {
        settings.refuseOpenDoor();
        int port = settings.whole(Settings.Key.PORT, 0, 65_535);
        LedgerService routes = new LedgerService(callers(settings));
        WebServer server = HttpServer.start(settings.text(Settings.Key.HOST), port, settings.flag(Settings.Key.ACCESS_LOG), routes, () -> true);
        RunningService service = new RunningService(settings, routes, server);
        Runtime.getRuntime().addShutdownHook(new Thread(service::close, "end"));
        return service;
    }

    private static Callers callers(Settings settings) {
        Optional<String> issuer = settings.optional(Settings.Key.ISSUER);
        if (issuer.isEmpty()) {
            return new LocalCallers(settings.text(Settings.Key.FLEET));
        }
        Optional<String> audience = settings.optional(Settings.Key.AUDIENCE);
        if (audience.isEmpty()) {
            LOG.log(System.Logger.Level.WARNING, "ledger.auth.audience is not set: the issuer's tokens for other services are accepted here too");
        }
        return new TokenCallers(issuer.get(), settings.text(Settings.Key.JWKS), audience);
    }

    String address() {
        String host = settings.text(Settings.Key.HOST);
        return "http://" + (host.contains(":") ? "[" + host + "]" : host) + ":" + server.port();
    }

    String startMessage() {
        return "Comeback Ledger listens on " + address() + " (contract: /openapi, health: /health). "
                + settings.optional(Settings.Key.ISSUER).map(issuer -> "Tokens of " + issuer + " are asked for.")
                        .orElse("No issuer is configured: everybody on this machine has every role.");
    }

    void awaitEnd() throws InterruptedException {
        end.await();
    }

    @Override
    public void close() {
        server.stop();
        routes.close();
        end.countDown();
    }
}
