package comebackledger.fleet;

import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.Optional;

/**
 * Of whom and of when.
 *
 * @param group only its units; without it the whole fleet is pooled
 * @param system only its episodes and repairs
 * @param at what arrived later is ignored
 */
public record FleetQuestion(Optional<String> group, Optional<String> system, Instant at) {
    boolean asksOf(UnitSummary unit) {
        return group.isEmpty() || group.equals(unit.group());
    }

    boolean asksOfSystem(String name) {
        return system.isEmpty() || system.get().equals(name);
    }

    boolean counts(UnitSummary.Opened episode) {
        return !episode.noFaultFound() && !episode.openedAt().isAfter(at) && asksOfSystem(episode.system());
    }
}
