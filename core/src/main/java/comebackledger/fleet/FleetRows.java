package comebackledger.fleet;

import comebackledger.trail.UnitSummary;
import java.util.function.Consumer;

/** The compact rows of a fleet's units, each once, by identifier. */
@FunctionalInterface
public interface FleetRows {
    void each(Consumer<UnitSummary> row);
}
