package comebackledger.api;

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

/**
 * The routes for a host's own Helidon server, under any prefix: {@code routing.register("/their/prefix", new LedgerService(callers))} answers
 * {@code /their/prefix/v1/..}. It adds no filter and no error handler to the host's routing.
 */
public final class LedgerService implements HttpService, AutoCloseable {
    private final Router router;
    private final Callers callers;
    private final Watchdog watchdog = new Watchdog();

    public LedgerService(Callers callers) {
        this(List.of(), callers);
    }

    LedgerService(List<Route> stored, Callers callers) {
        this.router = new Router(RouteTable.with(stored));
        this.callers = callers;
    }

    @Override
    public void routing(HttpRules rules) {
        rules.any("/v1", this::answer).any("/v1/*", this::answer);
    }

    private void answer(ServerRequest request, ServerResponse response) {
        try {
            route(request, response);
        } catch (Throwable e) {
            Problem problem = Problems.of(e);
            if (response.isSent()) {
                throw new io.helidon.webserver.CloseConnectionException("the answer cannot be finished", e);
            }
            Problems.send(response, problem, request.prologue().method() == io.helidon.http.Method.HEAD);
        }
    }

    private void route(ServerRequest request, ServerResponse response) {
        String method = request.prologue().method().text();
        switch (router.find(method, request.path().rawPath())) {
            case Router.Found.Hit(Route route, var parameters) -> {
                Caller caller = callers.of(request);
                if (Collections.disjoint(route.roles(), caller.roles())) {
                    throw new Problem(Slug.FORBIDDEN, "This needs the role " + RouteTable.words(route.roles()) + ".");
                }
                Exchange exchange = new Exchange(request, response, route, parameters, caller, watchdog);
                route.handler().answer(exchange);
            }
            case Router.Found.OtherMethods(String allow) -> {
                response.headers().set(HeaderValues.create(HeaderNames.ALLOW, allow));
                if (!method.equals("OPTIONS")) {
                    throw new Problem(Slug.METHOD_NOT_ALLOWED, "This path takes " + allow + ".");
                }
                Problems.ALWAYS.forEach(response.headers()::set);
                response.status(Status.NO_CONTENT_204).send();
            }
            case Router.Found.Nothing() -> throw Problems.ofStatus(Status.NOT_FOUND_404);
        }
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
