package comebackledger.trail;

import comebackledger.measure.MeterReading;
import java.time.Instant;

/** What the meters showed at a visit that read one of them at least; the other one then showed nothing. */
public record MetersRead(MeterReading odometer, MeterReading engineHours) {
    public String visit() {
        return odometer.visit();
    }

    public Instant at() {
        return odometer.at();
    }

    /** Whether there is anything to remember. */
    boolean tell() {
        return tells(odometer) || tells(engineHours);
    }

    private static boolean tells(MeterReading reading) {
        return reading.shown().isPresent() || reading.replaced();
    }
}
