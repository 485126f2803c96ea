package comebackledger.visit;

import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import java.util.Optional;

/** Multimeter readings between the lines and from each line to ground and to the positive cable. */
public record BusReadings(Optional<Reading> highLow, Optional<Reading> highGround, Optional<Reading> lowGround, Optional<Reading> highSupply,
        Optional<Reading> lowSupply, Optional<Quantity> supplyVoltage, Optional<Quantity> highVoltage, Optional<Quantity> lowVoltage) {
    public static final BusReadings NONE = new BusReadings(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(),
            Optional.empty(), Optional.empty(), Optional.empty());

    /** Whether any resistance was measured: those need the power off. */
    public boolean hasResistance() {
        return highLow.isPresent() || highGround.isPresent() || lowGround.isPresent() || highSupply.isPresent() || lowSupply.isPresent();
    }
}
