package comebackledger.visit;

import comebackledger.measure.Quantity;
import java.util.List;
import java.util.Optional;

/**
 * Multimeter readings on one network, plus the roll call.
 *
 * @param power speaks of the resistances; voltages are always taken with the power on
 * @param leadResistance both leads together
 * @param connector where it was measured, if not at the diagnostic connector
 * @param atModule the module whose plug it was measured at
 */
public record BusCheck(String network, Stage stage, Optional<Power> power, BusReadings readings, Optional<Quantity> leadResistance,
        Optional<MeterSpec> meter,
        Optional<RollCall> rollCall, List<DoneTest> done, Optional<String> connector, Optional<String> atModule) {
    public BusCheck {
        done = List.copyOf(done);
    }
}
