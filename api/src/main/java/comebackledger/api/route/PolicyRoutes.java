package comebackledger.api.route;

import comebackledger.api.http.Exchange;
import comebackledger.api.http.Revisions;
import comebackledger.api.http.Route;
import comebackledger.ledger.Evidence;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Outcome;
import comebackledger.ledger.RecordedPolicy;
import comebackledger.openapi.PolicyMapping;
import comebackledger.policy.Policy;
import io.helidon.http.HeaderNames;
import java.util.List;
import java.util.OptionalInt;

/** The fleet's policy. The entity tag is its version; 0 stands for the defaults. */
final class PolicyRoutes {
    private final Ledger ledger;

    PolicyRoutes(Ledger ledger) {
        this.ledger = ledger;
    }

    List<Route> routes() {
        return List.of(
                Route.get("/v1/policy", RouteTable.CARRIERS, exchange -> send(exchange, ledger.policy(exchange.fleet()))),
                Route.put("/v1/policy", RouteTable.ADMINISTRATORS, this::put));
    }

    private void put(Exchange exchange) {
        Evidence<Policy> evidence = PolicyMapping.toCore(exchange.bytes());
        OptionalInt replaces = Revisions.replaced(exchange.header(HeaderNames.IF_MATCH),
                () -> OptionalInt.of(ledger.policy(exchange.fleet()).version()));
        switch (ledger.putPolicy(exchange.caller().inLedger(), evidence, replaces)) {
            case Outcome.Created<RecordedPolicy>(RecordedPolicy policy) -> send(exchange, policy);
            case Outcome.Replaced<RecordedPolicy>(RecordedPolicy policy) -> send(exchange, policy);
            case Outcome.Unchanged<RecordedPolicy>(RecordedPolicy policy) -> send(exchange, policy);
            case Outcome.RevisionRequired<RecordedPolicy>(int current) -> throw Revisions.required("the policy", current);
            case Outcome.Stale<RecordedPolicy>(int current) -> throw Revisions.stale("the policy", current);
            case Outcome.UnitUnknown<RecordedPolicy> _ -> throw new IllegalStateException("a policy has no unit");
        }
    }

    private static void send(Exchange exchange, RecordedPolicy policy) {
        exchange.header(HeaderNames.ETAG, Revisions.tag(policy.version()));
        if (exchange.isKnown(Revisions.tag(policy.version()))) {
            exchange.sendNotModified();
        } else {
            exchange.send(200, PolicyMapping.toWire(policy));
        }
    }
}
