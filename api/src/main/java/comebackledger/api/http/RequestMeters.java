package comebackledger.api.http;

import io.helidon.metrics.api.Counter;
import io.helidon.metrics.api.MeterRegistry;
import io.helidon.metrics.api.MetricsFactory;
import io.helidon.metrics.api.Tag;
import io.helidon.metrics.api.Timer;
import java.time.Duration;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Counts requests by route and outcome, and times them by route; made at the start, so that a request only adds. */
final class RequestMeters {
    private static final String NO_ROUTE = "none";

    private final Map<String, OfRoute> byRoute = new HashMap<>();
    private final OfRoute none;

    private record OfRoute(Timer timer, List<Counter> byHundreds) {
        static OfRoute of(String route) {
            MeterRegistry registry = MetricsFactory.getInstance().globalRegistry();
            Tag tag = Tag.create("route", route);
            Timer timer = registry.getOrCreate(Timer.builder("ledger.request.time").addTag(tag).percentiles(0.5, 0.99));
            List<Counter> counters = List.of(1, 2, 3, 4, 5).stream().map(hundreds -> registry
                    .getOrCreate(Counter.builder("ledger.requests").addTag(tag).addTag(Tag.create("status", hundreds + "xx")))).toList();
            return new OfRoute(timer, counters);
        }
    }

    RequestMeters(Collection<Route> table) {
        table.forEach(route -> byRoute.put(name(route), OfRoute.of(name(route))));
        none = OfRoute.of(NO_ROUTE);
    }

    private static String name(Route route) {
        return route.method() + " " + route.pattern();
    }

    void add(java.util.Optional<Route> route, int status, long nanos) {
        OfRoute meters = route.map(found -> byRoute.getOrDefault(name(found), none)).orElse(none);
        meters.byHundreds().get(Math.clamp(status / 100, 1, 5) - 1).increment();
        meters.timer().record(Duration.ofNanos(nanos));
    }
}
