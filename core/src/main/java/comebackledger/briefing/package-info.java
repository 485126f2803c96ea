/**
 * What does this truck's history say before I test, and what should I measure first?
 *
 * <p>Doors: {@link comebackledger.briefing.Briefing#of} and {@link comebackledger.briefing.ReadingSeries}. Knows the unit, its view and its visits up
 * to the instant; the latest telling check of each open system is judged again with the repairs of its history weighed in.
 *
 * <p><b>Decisions.</b>
 * <ul>
 * <li>A fault is open while its trail is open or suspected. A unit without one is told so, and gets the two readings that tell most for their minutes
 * on a network nobody doubts.
 * <li>Next tests of all open systems stand in one list by information per minute; the weight of a fault orders the trails and the suspects.
 * <li>Of a charge-air system no circuit can be solved, so the odds of its spots are their counted leaks (rule of succession), and the gain of a test
 * follows from how often it finds a leak. Alternative: leave the gain out; then its tests could not be ordered among those of a network.
 * </ul>
 */
@NullMarked
package comebackledger.briefing;

import org.jspecify.annotations.NullMarked;
