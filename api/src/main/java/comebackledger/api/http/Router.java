package comebackledger.api.http;

import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;

/** Finds the row of the table that a request names. */
final class Router {
    /** Longer paths than any pattern are told apart by their first segments alone. */
    private static final int SEGMENTS_AT_MOST = 16;

    private final List<Path> paths;

    Router(Collection<Route> table) {
        Map<String, Path> byPattern = new LinkedHashMap<>();
        for (Route route : table) {
            Path path = byPattern.computeIfAbsent(route.pattern(), _ -> new Path(route.segments(), new LinkedHashMap<>()));
            if (path.routes().put(route.method(), route) != null) {
                throw new IllegalArgumentException("two routes for " + route.method() + " " + route.pattern());
            }
        }
        this.paths = List.copyOf(byPattern.values());
    }

    /** What a request's path and method name. */
    sealed interface Found {
        record Hit(Route route, Map<String, String> parameters) implements Found {}

        /** The path is known, the method is not. */
        record OtherMethods(String allow) implements Found {}

        record Nothing() implements Found {}
    }

    Found find(String method, String rawPath) {
        Optional<List<String>> segments = segments(rawPath);
        if (segments.isPresent()) {
            for (Path path : paths) {
                Optional<Map<String, String>> parameters = path.match(segments.get());
                if (parameters.isPresent()) {
                    Route route = path.routes().get(method.equals("HEAD") ? "GET" : method);
                    return route != null ? new Found.Hit(route, parameters.get()) : new Found.OtherMethods(path.allow());
                }
            }
        }
        return new Found.Nothing();
    }

    /** The decoded segments, or empty where the path cannot be decoded; an escaped slash stays inside its segment. */
    private static Optional<List<String>> segments(String rawPath) {
        String[] raw = rawPath.split("/", SEGMENTS_AT_MOST);
        List<String> decoded = new ArrayList<>(raw.length);
        for (int i = 1; i < raw.length; i++) {
            Optional<String> segment = Percent.decoded(raw[i]);
            if (segment.isEmpty()) {
                return Optional.empty();
            }
            decoded.add(segment.get());
        }
        return Optional.of(decoded);
    }

    private record Path(List<String> segments, Map<String, Route> routes) {
        Optional<Map<String, String>> match(List<String> asked) {
            if (asked.size() != segments.size()) {
                return Optional.empty();
            }
            Map<String, String> parameters = new LinkedHashMap<>();
            for (int i = 0; i < segments.size(); i++) {
                String segment = segments.get(i);
                if (segment.startsWith("{")) {
                    parameters.put(segment.substring(1, segment.length() - 1), asked.get(i));
                } else if (!segment.equals(asked.get(i))) {
                    return Optional.empty();
                }
            }
            return Optional.of(parameters);
        }

        String allow() {
            TreeSet<String> methods = new TreeSet<>(routes.keySet());
            if (methods.contains("GET")) {
                methods.add("HEAD");
            }
            methods.add("OPTIONS");
            return String.join(", ", methods);
        }
    }
}
