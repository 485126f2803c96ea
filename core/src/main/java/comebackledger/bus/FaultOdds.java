package comebackledger.bus;

import comebackledger.Require;
import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;

/**
 * How likely each fault is before any reading: weights, normalised where they are used (common practice, no source; a fleet's own finds may
 * move them). {@code none-found} stands for {@code intermittent-none-present} too.
 *
 * @param pairs all plausible pairs of faults together
 */
public record FaultOdds(Map<FaultKind, Double> weights, double pairs) {
    public static final FaultOdds DEFAULT = new FaultOdds(Map.ofEntries(Map.entry(FaultKind.NONE_FOUND, 15.0),
            Map.entry(FaultKind.TERMINATOR_MISSING, 13.0), Map.entry(FaultKind.TRUNK_OPEN, 12.0), Map.entry(FaultKind.SHORT_TO_GROUND, 10.0),
            Map.entry(FaultKind.TRUNK_SHORT_HIGH_LOW, 8.0), Map.entry(FaultKind.EXTRA_TERMINATOR, 7.0), Map.entry(FaultKind.SHORT_TO_SUPPLY, 6.0),
            Map.entry(FaultKind.TRUNK_SERIES_RESISTANCE, 5.0), Map.entry(FaultKind.CONNECTOR_FAULT, 5.0), Map.entry(FaultKind.MODULE_STUB, 5.0),
            Map.entry(FaultKind.MODULE_SUPPLY, 5.0), Map.entry(FaultKind.TERMINATOR_DRIFTED, 3.0), Map.entry(FaultKind.MODULE_SHUNT, 2.0),
            Map.entry(FaultKind.MODULE_INTERNAL, 2.0), Map.entry(FaultKind.REPORTER_ITSELF, 2.0), Map.entry(FaultKind.SUPPLY_LOW, 1.0),
            Map.entry(FaultKind.SENDER_DATA, 1.0), Map.entry(FaultKind.OTHER, 1.0)), 3);

    public FaultOdds {
        Require.that(pairs >= 0 && pairs <= 1e6, "the weight of pairs must be from 0 to 1 000 000, was %s", pairs);
        Map<FaultKind, Double> copy = new EnumMap<>(FaultKind.class);
        weights.forEach((kind, weight) -> {
            Require.that(weight >= 0 && weight <= 1e6, "the weight of %s must be from 0 to 1 000 000, was %s", kind.word(), weight);
            copy.put(kind, weight);
        });
        weights = Collections.unmodifiableMap(copy);
        Require.that(weights.values().stream().anyMatch(weight -> weight > 0), "at least one fault must have a weight above 0");
    }

    /** These weights in place of the same kinds' defaults. */
    public FaultOdds with(Map<FaultKind, Double> other) {
        Map<FaultKind, Double> merged = new EnumMap<>(FaultKind.class);
        merged.putAll(weights);
        merged.putAll(other);
        return new FaultOdds(merged, pairs);
    }

    /** Of all weights together, 0 to less than 1. */
    double shareOfOther() {
        double sum = pairs + weights.values().stream().mapToDouble(Double::doubleValue).sum();
        return sum > of(FaultKind.OTHER) ? of(FaultKind.OTHER) / sum : 0;
    }

    double of(FaultKind kind) {
        return weights.getOrDefault(kind, 0.0);
    }
}
