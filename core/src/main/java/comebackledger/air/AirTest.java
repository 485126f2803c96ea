package comebackledger.air;

import comebackledger.measure.Measured;
import java.util.Optional;

/** One test as measured, in SI with its uncertainties. */
public sealed interface AirTest {
    /** Absolute, Pa. */
    Measured ambientPa();

    /** At the leak. */
    Measured kelvin();

    double dischargeCoefficient();

    /** The pressure that the test began at, Pa. */
    default double gaugePa() {
        return switch (this) {
            case HeldFlow held -> held.testPa().value();
            case HoldDown hold -> hold.hold().startPa().value();
        };
    }

    /**
     * Regulated pressure, steady flow through the leak.
     *
     * @param testPa gauge
     * @param flow of the leak and the set-up
     * @param background of the set-up alone
     */
    record HeldFlow(Measured testPa, Flow flow, Optional<HeldBackground> background, Measured ambientPa, Measured kelvin, double dischargeCoefficient)
            implements
                AirTest {}

    /** @param testPa gauge; empty where it was the test's own pressure */
    record HeldBackground(Flow flow, Optional<Measured> testPa) {}

    /**
     * A flow as the meter shows it.
     *
     * @param value kg/s of a mass flow meter, else m3/s
     * @param meterPa gauge, of a float meter under pressure; empty where it was the test pressure
     */
    record Flow(Measured value, Reference reference, Optional<Measured> meterPa) {}

    /** What a flow reading refers to. */
    enum Reference {
        MASS, FREE_AIR, ANR, FLOAT_METER_UNDER_PRESSURE
    }

    /**
     * Pressure decay over a time. Gauge pressures.
     *
     * @param kelvin at the start
     * @param endKelvin where it was read too: the temperature moved evenly, and the two readings err by themselves; empty where it stayed
     */
    record HoldDown(Measured volumeM3, Timed hold, Optional<Timed> background, Measured ambientPa, Measured kelvin, Optional<Measured> endKelvin,
            double dischargeCoefficient) implements AirTest {}

    /** One timed decay. */
    record Timed(Measured startPa, Measured endPa, Measured seconds) {}
}
