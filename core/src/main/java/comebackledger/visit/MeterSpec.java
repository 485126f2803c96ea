package comebackledger.visit;

import java.util.OptionalDouble;

/**
 * The multimeter used.
 *
 * @param relativeAccuracy a bound, 0 to 1
 * @param digitOhm one count of the display, ohm
 */
public record MeterSpec(OptionalDouble relativeAccuracy, OptionalDouble digitOhm) {}
