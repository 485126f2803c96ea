/**
 * May this unit go out, for this trip, now?
 *
 * <p>Door: {@link comebackledger.readiness.Readiness}. Collects every reason; the heaviest decides: hold over unknown over caution over ready.
 * The answer covers what this ledger knows (communication, charge air, lamps, what was declared); the carrier's inspection duties stay with the
 * carrier.
 */
@NullMarked
package comebackledger.readiness;

import org.jspecify.annotations.NullMarked;
