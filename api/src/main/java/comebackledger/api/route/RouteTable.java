package comebackledger.api.route;

import comebackledger.api.caller.Role;
import comebackledger.api.http.Route;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;

/** Every route, and who may use it. */
public final class RouteTable {
    public static final Set<Role> ANYBODY = Set.of(Role.values());
    static final Set<Role> ADMINISTRATORS = Set.of(Role.ADMINISTRATOR);
    static final Set<Role> WRITERS = Set.of(Role.TECHNICIAN, Role.ADMINISTRATOR);
    static final Set<Role> CARRIERS = Set.of(Role.PLANNER, Role.ADMINISTRATOR);
    static final Set<Role> SHOP = Set.of(Role.TECHNICIAN, Role.PLANNER, Role.ADMINISTRATOR);
    static final Set<Role> DISPATCH = Set.of(Role.DISPATCHER, Role.PLANNER, Role.ADMINISTRATOR);

    private RouteTable() {}

    /** What a ledger answers, and what needs none. */
    public static List<Route> with(List<Route> stored) {
        List<Route> table = new ArrayList<>(stored);
        table.addAll(CalculationRoutes.routes());
        return table;
    }
}
