package comebackledger.fleet;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;

/** The median usage a day of each group, and of the whole fleet for a group that tells none. */
final class Usual {
    private final Map<Measure, Map<Optional<String>, List<Double>>> byGroup = new EnumMap<>(Measure.class);
    private final Map<Measure, Map<String, OptionalDouble>> medians = new EnumMap<>(Measure.class);

    void add(Measure measure, Optional<String> group, double perDay) {
        Map<Optional<String>, List<Double>> groups = byGroup.computeIfAbsent(measure, _ -> new java.util.LinkedHashMap<>());
        groups.computeIfAbsent(group, _ -> new ArrayList<>()).add(perDay);
    }

    OptionalDouble perDay(Measure measure, Optional<String> group) {
        Map<String, OptionalDouble> known = medians.computeIfAbsent(measure, _ -> new TreeMap<>());
        OptionalDouble own = group.map(name -> known.computeIfAbsent("g" + name, _ -> median(values(measure, Optional.of(group)))))
                .orElse(OptionalDouble.empty());
        return own.isPresent() ? own : known.computeIfAbsent("", _ -> median(values(measure, Optional.empty())));
    }

    private List<Double> values(Measure measure, Optional<Optional<String>> group) {
        Map<Optional<String>, List<Double>> groups = byGroup.getOrDefault(measure, Map.of());
        return group.isPresent() ? groups.getOrDefault(group.get(), List.of()) : groups.values().stream().flatMap(List::stream).toList();
    }

    private static OptionalDouble median(List<Double> values) {
        if (values.isEmpty()) {
            return OptionalDouble.empty();
        }
        List<Double> sorted = new ArrayList<>(values);
        Collections.sort(sorted);
        int middle = sorted.size() / 2;
        return OptionalDouble.of(sorted.size() % 2 == 1 ? sorted.get(middle) : (sorted.get(middle - 1) + sorted.get(middle)) / 2);
    }
}
