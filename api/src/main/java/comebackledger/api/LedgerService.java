package comebackledger.api;

import comebackledger.api.caller.Callers;
import comebackledger.api.http.Answering;
import comebackledger.api.http.Route;
import comebackledger.api.route.RouteTable;
import comebackledger.api.route.StoredRoutes;
import comebackledger.ledger.Ledger;
import io.helidon.webserver.http.HttpRules;
import io.helidon.webserver.http.HttpService;
import io.helidon.webserver.http.ServerRequest;
import java.util.List;

/**
 * The routes for a host's own Helidon server, under any prefix: {@code routing.register("/their/prefix", new LedgerService(ledger, callers))} answers
 * {@code /their/prefix/v1/..}. It adds no filter and no error handler to the host's routing.
 */
public final class LedgerService implements HttpService, AutoCloseable {
    private final Answering answering;

    public LedgerService(Ledger ledger, Callers callers) {
        this(StoredRoutes.of(ledger), callers);
    }

    LedgerService(List<Route> stored, Callers callers) {
        this.answering = new Answering(RouteTable.with(stored), callers);
    }

    @Override
    public void routing(HttpRules rules) {
        rules.any("/v1", answering::answer).any("/v1/*", answering::answer);
    }

    /** For what our own server answers outside the routes. */
    void settle(ServerRequest request) {
        answering.settle(request);
    }

    @Override
    public void afterStop() {
        close();
    }

    @Override
    public void close() {
        answering.close();
    }
}
