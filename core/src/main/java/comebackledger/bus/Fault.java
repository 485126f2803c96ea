package comebackledger.bus;

import comebackledger.Require;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One fault to lay on a circuit.
 *
 * @param part the module, or the terminator, that it concerns
 * @param ohm of a short or a joint; empty: dead (a short) or open (a connector pin, a joint)
 * @param atMetres along the trunk; a fault sits on the side toward the higher distance
 * @param between two neighbours along the trunk, in place of a distance: half-way between them; empty: no pair told
 */
public record Fault(FaultKind kind, Optional<String> part, Optional<Line> line, OptionalDouble ohm, OptionalDouble atMetres, List<String> between) {
    public Fault {
        Require.that(ohm.orElse(0) >= 0 && ohm.orElse(0) <= 1e9, "a fault's ohm must be from 0 to 1e9, was %s", ohm.orElse(0));
        Require.that(atMetres.orElse(0) >= 0 && atMetres.orElse(0) <= 10_000, "a fault's atMetres must be from 0 to 10 000, was %s",
                atMetres.orElse(0));
        between = List.copyOf(between);
        Require.that(between.isEmpty() || between.size() == 2, "between names two neighbours along the trunk, was %s", between);
    }
}
