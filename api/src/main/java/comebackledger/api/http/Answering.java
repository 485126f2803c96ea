package comebackledger.api.http;

import comebackledger.api.caller.Caller;
import comebackledger.api.caller.Callers;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import io.helidon.http.HeaderNames;
import io.helidon.http.HeaderValues;
import io.helidon.http.Method;
import io.helidon.http.Status;
import io.helidon.webserver.CloseConnectionException;
import io.helidon.webserver.http.ServerRequest;
import io.helidon.webserver.http.ServerResponse;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/** Answers every call by one table of routes: who calls, what it may do, what is asked; and a problem document for whatever goes wrong. */
public final class Answering implements AutoCloseable {
    private final Router router;
    private final Callers callers;
    private final RequestMeters meters;
    private final Watchdog watchdog = new Watchdog();

    /** @throws IllegalArgumentException if two routes have the same method and pattern */
    public Answering(List<Route> table, Callers callers) {
        this.router = new Router(table);
        this.meters = new RequestMeters(table);
        this.callers = callers;
    }

    public void answer(ServerRequest request, ServerResponse response) {
        long start = System.nanoTime();
        Router.Found found = router.find(request.prologue().method().text(), request.path().rawPath());
        Entity entity = new Entity(request, watchdog);
        try {
            route(found, request, response, entity);
        } catch (Throwable e) {
            Problem problem = Problems.of(e);
            if (response.isSent()) {
                throw new CloseConnectionException("the answer cannot be finished", e);
            }
            if (entity.isHeldBack()) {
                response.headers().set(HeaderValues.CONNECTION_CLOSE);
            }
            Problems.send(response, problem, request.prologue().method() == Method.HEAD);
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
                    throw new Problem(Slug.FORBIDDEN, "This needs the role " + words(route) + ".");
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

    private static String words(Route route) {
        return route.roles().stream().sorted().map(role -> role.name().toLowerCase(Locale.ROOT)).collect(Collectors.joining(" or "));
    }

    /** Reads or drops the body of a request that was answered outside the table. */
    public void settle(ServerRequest request) {
        new Entity(request, watchdog).settle();
    }

    @Override
    public void close() {
        watchdog.close();
    }
}
