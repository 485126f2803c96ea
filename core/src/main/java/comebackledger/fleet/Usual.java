package comebackledger.fleet;

import comebackledger.stat.Median;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The median usage a day of each group, and of the whole fleet for a group that tells none. Of those told so far: to be asked when all have told theirs.
 */
final class Usual {
    /** A column that grows. */
    private static final class Told {
        private double[] values = new double[16];
        private int size;
        private OptionalDouble median = OptionalDouble.empty();

        void add(double value) {
            if (size == values.length) {
                values = Arrays.copyOf(values, size * 2);
            }
            values[size++] = value;
            median = OptionalDouble.empty();
        }

        OptionalDouble median() {
            if (median.isEmpty() && size > 0) {
                double[] sorted = Arrays.copyOf(values, size);
                Arrays.sort(sorted);
                median = OptionalDouble.of(Median.ofSorted(sorted));
            }
            return median;
        }
    }

    private final Map<String, Told> byGroup = new HashMap<>();
    private final Told all = new Told();

    void add(Optional<String> group, double perDay) {
        all.add(perDay);
        group.ifPresent(name -> byGroup.computeIfAbsent(name, _ -> new Told()).add(perDay));
    }

    OptionalDouble perDay(Optional<String> group) {
        OptionalDouble own = group.map(byGroup::get).map(Told::median).orElse(OptionalDouble.empty());
        return own.isPresent() ? own : all.median();
    }
}
