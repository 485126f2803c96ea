package comebackledger.api.route;

import comebackledger.api.http.Route;
import comebackledger.ledger.Ledger;
import java.util.List;
import java.util.stream.Stream;

/** Every route that a ledger answers. */
public final class StoredRoutes {
    private StoredRoutes() {}

    public static List<Route> of(Ledger ledger) {
        return Stream.of(new ReadinessRoutes(ledger).routes(), new UnitRoutes(ledger).routes(), new VisitRoutes(ledger).routes(),
                new StandingRoutes(ledger).routes(), new PolicyRoutes(ledger).routes(), new ChangeRoutes(ledger).routes(),
                new BulkRoutes(ledger).routes(), new BriefingRoutes(ledger).routes(), new FleetRoutes(ledger).routes())
                .flatMap(List::stream).toList();
    }
}
