package comebackledger.bus;

import comebackledger.Require;
import comebackledger.measure.Kind;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What the meter showed in one check of one network.
 *
 * @param powered the power was on while the resistances were read, which makes them worthless; voltages are always taken with the power on
 * @param leadOhm both leads together; empty: as the policy assumes
 * @param meter empty: as the policy assumes
 * @param atModule the module at whose pins it was read; empty: the diagnostic connector
 */
public record BusReadings(boolean powered, Optional<Reading> highLow, Optional<Reading> highGround, Optional<Reading> lowGround,
        Optional<Reading> highSupply, Optional<Reading> lowSupply, Optional<Quantity> supplyVoltage, Optional<Quantity> highVoltage,
        Optional<Quantity> lowVoltage, OptionalDouble leadOhm, Optional<Meter> meter, Optional<String> atModule) {

    public static final BusReadings NONE = new BusReadings(false, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(),
            Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), OptionalDouble.empty(), Optional.empty(), Optional.empty());

    /** @param relativeAccuracy a bound, rectangular, common to all readings of the check; @param digitOhm one count of the display */
    public record Meter(double relativeAccuracy, double digitOhm) {
        public Meter {
            Require.that(relativeAccuracy >= 0 && relativeAccuracy <= 0.5, "relativeAccuracy must be from 0 to 0.5, was %s", relativeAccuracy);
            Require.that(digitOhm >= 0 && digitOhm <= 1000, "digitOhm must be from 0 to 1000, was %s", digitOhm);
        }
    }

    public BusReadings {
        for (Optional<Reading> reading : List.of(highLow, highGround, lowGround, highSupply, lowSupply)) {
            reading.ifPresent(shown -> Require.that(shown.unit().kind() == Kind.RESISTANCE, "a resistance needs ohm, was %s", shown.unit().symbol()));
        }
        for (Optional<Quantity> volt : List.of(supplyVoltage, highVoltage, lowVoltage)) {
            volt.ifPresent(shown -> Require.that(shown.unit().kind() == Kind.VOLTAGE, "a voltage needs V, was %s", shown.unit().symbol()));
        }
        Require.that(leadOhm.orElse(0) >= 0 && leadOhm.orElse(0) <= 1000, "leadOhm must be from 0 to 1000, was %s", leadOhm.orElse(0));
    }

    public boolean hasResistance() {
        return highLow.isPresent() || highGround.isPresent() || lowGround.isPresent() || highSupply.isPresent() || lowSupply.isPresent();
    }

    public boolean hasVoltage() {
        return highVoltage.isPresent() || lowVoltage.isPresent();
    }

    BusReadings withoutResistances() {
        return new BusReadings(powered, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), supplyVoltage,
                highVoltage, lowVoltage, leadOhm, meter, atModule);
    }

    BusReadings withoutVoltages() {
        return new BusReadings(powered, highLow, highGround, lowGround, highSupply, lowSupply, supplyVoltage, Optional.empty(), Optional.empty(),
                leadOhm,
                meter, atModule);
    }
}
