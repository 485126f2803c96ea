package comebackledger.api.http;

import comebackledger.api.caller.Role;
import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.Set;

/**
 * One row of the table.
 *
 * @param pattern segments divided by slashes; one in braces takes any single segment
 * @param roles any of them is enough
 * @param query the names it knows
 * @param produces media types, the first unless the caller prefers another
 * @param deadline how long the caller's bytes may take to arrive
 */
public record Route(String method, String pattern, Set<Role> roles, Body body, Set<String> query, List<String> produces, Duration deadline,
        Handler handler) {
    public static final String JSON = "application/json";
    public static final String LINES = "application/x-ndjson";
    public static final String CSV = "text/csv";
    public static final String SVG = "image/svg+xml";
    public static final String HTML = "text/html";

    /** Time for one document; common practice, no source. */
    private static final Duration ONE_DOCUMENT = Duration.ofSeconds(30);
    /** Time between two lines of an import; common practice, no source. */
    private static final Duration ONE_PIECE = Duration.ofSeconds(60);

    public static Route get(String pattern, Set<Role> roles, Handler handler) {
        return new Route("GET", pattern, roles, Body.NONE, Set.of(), List.of(JSON), ONE_DOCUMENT, handler);
    }

    public static Route put(String pattern, Set<Role> roles, Handler handler) {
        return new Route("PUT", pattern, roles, Body.DOCUMENT, Set.of(), List.of(JSON), ONE_DOCUMENT, handler);
    }

    public static Route post(String pattern, Set<Role> roles, Body body, Handler handler) {
        return new Route("POST", pattern, roles, body, Set.of(), List.of(JSON), body == Body.LINES ? ONE_PIECE : ONE_DOCUMENT, handler);
    }

    public Route asking(String... names) {
        return new Route(method, pattern, roles, body, Set.copyOf(Arrays.asList(names)), produces, deadline, handler);
    }

    public Route producing(String... mediaTypes) {
        return new Route(method, pattern, roles, body, query, List.of(mediaTypes), deadline, handler);
    }

    List<String> segments() {
        return List.of(pattern.substring(1).split("/", -1));
    }
}
