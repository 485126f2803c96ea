package comebackledger.visit;

import comebackledger.measure.Quantity;
import java.util.Optional;

/**
 * What the odometer and the hour meter showed.
 *
 * @param odometerReplaced the meter starts again at this visit
 * @param previousOdometer what the old one showed last, if it was noted
 */
public record Meters(Optional<Quantity> odometer, boolean odometerReplaced, Optional<Quantity> previousOdometer, Optional<Quantity> engineHours,
        boolean engineHoursReplaced, Optional<Quantity> previousEngineHours) {
    public static final Meters NONE = new Meters(Optional.empty(), false, Optional.empty(), Optional.empty(), false, Optional.empty());
}
