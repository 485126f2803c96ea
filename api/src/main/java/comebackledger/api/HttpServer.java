package comebackledger.api;

import comebackledger.api.http.Problems;
import comebackledger.api.http.ServerLimits;
import io.helidon.health.HealthCheckResponse;
import io.helidon.health.HealthCheckType;
import io.helidon.health.checks.HealthChecks;
import io.helidon.http.HeaderValues;
import io.helidon.http.HttpException;
import io.helidon.http.Method;
import io.helidon.openapi.OpenApiFeature;
import io.helidon.webserver.CloseConnectionException;
import io.helidon.webserver.WebServer;
import io.helidon.webserver.WebServerConfig;
import io.helidon.webserver.accesslog.AccessLogFeature;
import io.helidon.webserver.http.HttpRouting;
import io.helidon.webserver.http.ServerRequest;
import io.helidon.webserver.http1.Http1Config;
import io.helidon.webserver.observe.ObserveFeature;
import io.helidon.webserver.observe.health.HealthObserver;
import io.helidon.webserver.observe.metrics.MetricsObserver;
import java.time.Duration;
import java.util.function.BooleanSupplier;

/** Our own server around the routes: limits, health, metrics, the contract, and problem documents for all it refuses itself. */
final class HttpServer {
    private static final Duration IDLE = Duration.ofSeconds(60);
    private static final Duration LOOK_FOR_IDLE_EVERY = Duration.ofSeconds(10);
    private static final Duration GRACE = Duration.ofSeconds(10);
    private static final String CONTRACT = "META-INF/openapi.yaml";

    private HttpServer() {}

    /**
     * @param port 0 for any free one
     * @param storeAnswers asked by {@code /health/ready} and {@code /health/started}
     * @throws IllegalStateException if nothing can listen there
     */
    static WebServer start(String host, int port, boolean accessLog, LedgerService service, BooleanSupplier storeAnswers) {
        WebServerConfig.Builder server = WebServer.builder().host(host).port(port).featuresDiscoverServices(false)
                .maxTcpConnections(ServerLimits.CONNECTIONS_AT_MOST).maxConcurrentRequests(ServerLimits.REQUESTS_AT_ONCE)
                .idleConnectionTimeout(IDLE).idleConnectionPeriod(LOOK_FOR_IDLE_EVERY).shutdownGracePeriod(GRACE).shutdownHook(false)
                .addProtocol(Http1Config.builder().maxPrologueLength(ServerLimits.REQUEST_LINE_BYTES_AT_MOST)
                        .maxHeadersSize(ServerLimits.HEADER_BYTES_AT_MOST)
                        .validatePath(true).build())
                .directHandlers(Problems.directHandlers())
                .addFeature(observe(storeAnswers))
                .routing(routing -> routes(routing, service));
        if (HttpServer.class.getClassLoader().getResource(CONTRACT) != null) {
            server.addFeature(OpenApiFeature.builder().staticFile(CONTRACT).webContext("/openapi").build());
        }
        if (accessLog) {
            server.addFeature(AccessLogFeature.create());
        }
        WebServer started = server.build().start();
        if (!started.isRunning()) { // the server library logs why, and throws nothing
            throw new IllegalStateException("it is taken, or is no address of this machine.");
        }
        return started;
    }

    private static void routes(HttpRouting.Builder routing, LedgerService service) {
        routing.addFilter((chain, request, response) -> {
            chain.proceed();
            closeIfAsked(request);
        }).register("/", service)
                .error(HttpException.class, (request, response, e) -> {
                    Problems.send(response, Problems.ofStatus(e.status()), request.prologue().method() == Method.HEAD);
                    service.settle(request);
                    closeIfAsked(request);
                })
                .error(Throwable.class, (request, response, e) -> {
                    Problems.send(response, Problems.of(e), request.prologue().method() == Method.HEAD);
                    service.settle(request);
                    closeIfAsked(request);
                });
    }

    /** The server library says {@code Connection: close} to a caller who said so, and leaves the connection open: one who reads to its end would wait. */
    private static void closeIfAsked(ServerRequest request) {
        if (request.headers().containsToken(HeaderValues.CONNECTION_CLOSE)) {
            throw new CloseConnectionException("the caller asked for it");
        }
    }

    private static ObserveFeature observe(BooleanSupplier storeAnswers) {
        HealthObserver health = HealthObserver.builder().endpoint("/health").details(true).useSystemServices(false)
                .addCheck(HealthChecks.deadlockCheck())
                .addCheck(() -> store(storeAnswers), HealthCheckType.READINESS, "storage")
                .addCheck(() -> store(storeAnswers), HealthCheckType.STARTUP, "storage")
                .build();
        return ObserveFeature.builder().observersDiscoverServices(false).addObserver(health)
                .addObserver(MetricsObserver.builder().endpoint("/metrics").build()).build();
    }

    private static HealthCheckResponse store(BooleanSupplier storeAnswers) {
        boolean up;
        try {
            up = storeAnswers.getAsBoolean();
        } catch (RuntimeException e) {
            up = false;
        }
        return HealthCheckResponse.builder().status(up).build();
    }
}
