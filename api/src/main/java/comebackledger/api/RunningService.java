package comebackledger.api;

import comebackledger.api.caller.Callers;
import comebackledger.api.caller.LocalCallers;
import comebackledger.api.caller.TokenCallers;
import comebackledger.api.setting.OpenLedger;
import comebackledger.api.setting.Settings;
import comebackledger.ledger.Ledger;
import io.helidon.webserver.WebServer;
import java.util.Arrays;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.Collectors;

/** The service as one process runs it: settings checked, store open, server listening; all closed in the opposite order. */
public final class RunningService implements AutoCloseable {
    private static final System.Logger LOG = System.getLogger(RunningService.class.getName());

    private final Settings settings;
    private final OpenLedger open;
    private final LedgerService routes;
    private final WebServer server;
    private final AtomicBoolean closed = new AtomicBoolean();
    private final CountDownLatch end = new CountDownLatch(1);
    private final BaselineSchedule schedule;

    private RunningService(Settings settings, OpenLedger open, LedgerService routes, WebServer server) {
        this.settings = settings;
        this.open = open;
        this.routes = routes;
        this.server = server;
        this.schedule = new BaselineSchedule(open.ledger().baselines());
    }

    /** @throws Settings.Refused if it would be reachable without credentials, or a setting is not possible */
    public static RunningService start(Settings settings) {
        settings.refuseOpenDoor();
        int port = settings.whole(Settings.Key.PORT, 0, 65_535);
        boolean accessLog = settings.flag(Settings.Key.ACCESS_LOG);
        Callers callers = callers(settings);
        OpenLedger open = OpenLedger.with(settings);
        LedgerService routes = new LedgerService(open.ledger(), callers);
        RunningService service;
        try {
            service = new RunningService(settings, open, routes,
                    HttpServer.start(settings.text(Settings.Key.HOST), port, accessLog, routes, open::answers));
        } catch (RuntimeException e) {
            routes.close();
            open.close();
            throw new Settings.Refused("The address " + settings.text(Settings.Key.HOST) + ":" + port + " cannot be listened on: " + e.getMessage());
        }
        service.schedule.start();
        Runtime.getRuntime().addShutdownHook(new Thread(service::close, "end"));
        return service;
    }

    private static Callers callers(Settings settings) {
        Optional<String> issuer = settings.optional(Settings.Key.ISSUER);
        if (issuer.isEmpty()) {
            return new LocalCallers(settings.fleet());
        }
        Set<String> audiences = settings.optional(Settings.Key.AUDIENCES)
                .map(text -> Arrays.stream(text.split(",")).map(String::strip).filter(one -> !one.isEmpty()).collect(Collectors.toSet()))
                .orElse(Set.of());
        if (audiences.isEmpty()) {
            LOG.log(System.Logger.Level.WARNING,
                    Settings.Key.AUDIENCES.key() + " is not set: the issuer's tokens for other services are accepted here too");
        }
        return new TokenCallers(issuer.get(), settings.text(Settings.Key.PUBLIC_KEYS), audiences);
    }

    public Ledger ledger() {
        return open.ledger();
    }

    /** Of callers who need no token. */
    public String fleet() {
        return settings.fleet();
    }

    public String address() {
        String host = settings.text(Settings.Key.HOST);
        return "http://" + (host.contains(":") ? "[" + host + "]" : host) + ":" + server.port();
    }

    public String startMessage() {
        return "Comeback Ledger listens on " + address() + " (contract: /openapi, health: /health). "
                + settings.optional(Settings.Key.ISSUER).map(issuer -> "Tokens of " + issuer + " are asked for.")
                        .orElse("No issuer is configured: everybody on this machine has every role.");
    }

    public void awaitEnd() throws InterruptedException {
        end.await();
    }

    @Override
    public void close() {
        if (closed.compareAndSet(false, true)) {
            server.stop();
            schedule.close();
            routes.close();
            open.close();
            end.countDown();
        }
    }
}
