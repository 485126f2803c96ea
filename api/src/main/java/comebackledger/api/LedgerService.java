package comebackledger.api;

import comebackledger.ledger.Ledger;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import io.helidon.http.HeaderNames;
import io.helidon.http.HeaderValues;
import io.helidon.http.Status;
import io.helidon.webserver.http.HttpRules;
import io.helidon.webserver.http.HttpService;
import io.helidon.webserver.http.ServerRequest;
import io.helidon.webserver.http.ServerResponse;
import java.util.Collections;
import java.util.List;
import java.util.Optional;

/**
 * The routes for a host's own Helidon server, under any prefix: {@code routing.register("/their/prefix", new LedgerService(ledger, callers))} answers
 * {@code /their/prefix/v1/..}. It adds no filter and no error handler to the host's routing.
 */
public final class LedgerService implements HttpService, AutoCloseable {
    private final Router router;
    private final Callers callers;
    private final RequestMeters meters;
    private final Watchdog watchdog = new Watchdog();

    public LedgerService(Ledger ledger, Callers callers) {
        this(StoredRoutes.of(ledger), callers);
    }

    LedgerService(List<Route> stored, Callers callers) {
        List<Route> table = RouteTable.with(stored);
        this.router = new Router(table);
        this.meters = new RequestMeters(table);
        this.callers = callers;
    }

    @Override
    public void routing(HttpRules rules) {
        rules.any("/v1", this::answer).any("/v1/*", this::answer);
    }

    private void answer(ServerRequest request, ServerResponse response) {
        long start = System.nanoTime();
        Router.Found found = router.find(request.prologue().method().text(), request.path().rawPath());
        Entity entity = new Entity(request, watchdog);
        try {
            route(found, request, response, entity);
        } catch (Throwable e) {
            Problem problem = Problems.of(e);
            if (response.isSent()) {
                throw new io.helidon.webserver.CloseConnectionException("the answer cannot be finished", e);
            }
            Problems.send(response, problem, request.prologue().method() == io.helidon.http.Method.HEAD);
        } finally {
            Optional<Route> route = found instanceof Router.Found.Hit hit ? Optional.of(hit.route()) : Optional.empty();
            meters.add(route, response.status().code(), System.nanoTime() - start);
        }
        entity.settle();
    }

    private void route(Router.Found found, ServerRequest request, ServerResponse response, Entity entity) {
        switch (found) {
            case Router.Found.Hit(Route route, var parameters) -> {
                Caller caller = callers.of(request);
                if (Collections.disjoint(route.roles(), caller.roles())) {
                    throw new Problem(Slug.FORBIDDEN, "This needs the role " + RouteTable.words(route.roles()) + ".");
                }
                Exchange exchange = new Exchange(request, response, route, parameters, caller, entity);
                route.handler().answer(exchange);
            }
            case Router.Found.OtherMethods(String allow) -> {
                response.headers().set(HeaderValues.create(HeaderNames.ALLOW, allow));
                if (!request.prologue().method().text().equals("OPTIONS")) {
                    throw new Problem(Slug.METHOD_NOT_ALLOWED, "This path takes " + allow + ".");
                }
                Problems.ALWAYS.forEach(response.headers()::set);
                response.status(Status.NO_CONTENT_204).send();
            }
            case Router.Found.Nothing() -> throw Problems.ofStatus(Status.NOT_FOUND_404);
        }
    }

    /** For what our own server answers outside the routes. */
    void settle(ServerRequest request) {
        new Entity(request, watchdog).settle();
    }

    @Override
    public void afterStop() {
        close();
    }

    @Override
    public void close() {
        watchdog.close();
    }
}
