package comebackledger.visit;

import comebackledger.measure.Quantity;
import java.util.Optional;

/** The same test of the set-up alone: its own leak is taken off. Flow for held-flow, a decay for hold-down. */
public record AirBackground(Optional<Quantity> flow, Optional<Quantity> testPressure, Optional<Quantity> startPressure,
        Optional<Quantity> endPressure,
        Optional<Quantity> duration) {}
