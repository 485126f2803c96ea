/**
 * What the fleet teaches about one unit: how often its peers fail, how far a unit usually goes in a day, how long a repair holds.
 *
 * <p>Doors: {@link comebackledger.baseline.Baseline} (learned from the compact rows of all units, versioned, cited),
 * {@link comebackledger.baseline.Exposure} (what one unit has covered) and {@link comebackledger.baseline.Taught} (a unit's view with the flags
 * that need the fleet or a trend test, and its {@link comebackledger.baseline.Outlook} for a trip).
 *
 * <p><b>Decisions.</b>
 * <ul>
 * <li>Everything is learned per kilometre and per day side by side, and a unit is judged by kilometres where its odometer is known: distance wears, time is
 * the fallback.
 * <li>With too little data a group leans on the fleet and the fleet on weak figures (common practice, no source); what was used is said. Weak figures raise
 * no flag.
 * <li>A place that was repaired can fail afresh like any other. Counting each of its later failures as a return made the units with most repairs look better
 * than they are in new faults and worse in old ones (a third too high in the middle tenths of a simulated fleet), so returns are shared out by likelihood
 * ({@link comebackledger.baseline.Returns}).
 * <li>A stretch that a replaced meter leaves unknown counts at the unit's own usage and is marked as estimated: at nothing it would make the unit look worse
 * than its evidence.
 * <li>All covered systems share one rate in the outlook: what fails a unit once fails it elsewhere too. A fleet whose systems fail apart would reopen this.
 * </ul>
 */
@NullMarked
package comebackledger.baseline;

import org.jspecify.annotations.NullMarked;
