package comebackledger.api;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;

/** Every route, and who may use it. */
final class RouteTable {
    static final Set<Role> ANYBODY = EnumSet.allOf(Role.class);

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
