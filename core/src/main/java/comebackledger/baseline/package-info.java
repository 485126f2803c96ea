/**
 * What the fleet teaches about one unit: how often its peers fail, how far a unit usually goes in a day, how long a repair holds.
 *
 * <p>Door so far: {@link comebackledger.baseline.Exposure} (what one unit has covered).
 *
 * <p><b>Decisions.</b> A stretch that a replaced meter leaves unknown counts at the unit's own usage and is marked as estimated: at nothing it
 * would make the unit look worse than its evidence.
 */
@NullMarked
package comebackledger.baseline;

import org.jspecify.annotations.NullMarked;
