package comebackledger.api;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;

/** Every route, and who may use it. */
final class RouteTable {
    static final Set<Role> ANYBODY = Set.of(Role.values());
    static final Set<Role> ADMINISTRATORS = Set.of(Role.ADMINISTRATOR);
    static final Set<Role> WRITERS = Set.of(Role.TECHNICIAN, Role.ADMINISTRATOR);
    static final Set<Role> CARRIERS = Set.of(Role.PLANNER, Role.ADMINISTRATOR);
    static final Set<Role> SHOP = Set.of(Role.TECHNICIAN, Role.PLANNER, Role.ADMINISTRATOR);
    static final Set<Role> DISPATCH = Set.of(Role.DISPATCHER, Role.PLANNER, Role.ADMINISTRATOR);

    private RouteTable() {}

    static List<Route> with(List<Route> stored) {
        List<Route> table = new ArrayList<>(stored);
        table.addAll(CalculationRoutes.routes());
        return table;
    }

    static String words(Set<Role> roles) {
        return roles.stream().sorted().map(role -> role.name().toLowerCase(Locale.ROOT)).collect(Collectors.joining(" or "));
    }
}
