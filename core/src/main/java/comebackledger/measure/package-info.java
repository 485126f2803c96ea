/**
 * What was measured, in which unit, and how sure it is.
 *
 * <p>Door: {@link comebackledger.measure.Quantity} at the border, {@link comebackledger.measure.Measured} for a result that rests on a
 * reading. Knows nothing of vehicles, visits or circuits.
 *
 * <p><b>Decisions.</b> A reading beyond the meter's range is a case of its own ({@link comebackledger.measure.OverRange}), never a large
 * number: a large number would be averaged and compared. Lengths of wire and distances of road are different kinds, so that an odometer
 * in feet is refused. Reopen it if a fleet meters distance in metres.
 */
@NullMarked
package comebackledger.measure;

import org.jspecify.annotations.NullMarked;
