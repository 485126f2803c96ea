package comebackledger.unit;

import comebackledger.measure.Quantity;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * The engine, as far as its air flow needs it.
 *
 * @param volumetricEfficiency of the charge, 0 to 1.5
 * @param strokes 2 or 4
 */
public record Engine(Optional<Quantity> displacement, OptionalDouble ratedSpeedRpm, OptionalDouble volumetricEfficiency, OptionalInt strokes) {}
