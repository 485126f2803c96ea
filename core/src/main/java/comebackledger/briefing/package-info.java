/**
 * What does this truck's history say before I test, and what should I measure first?
 *
 * <p>Doors: {@link comebackledger.briefing.Briefing#of} and {@link comebackledger.briefing.ReadingSeries}. Knows the unit, its view and its visits up
 * to the instant; the latest telling check of each open system is judged again with the repairs of its history weighed in.
 *
 * <p><b>Decisions.</b>
 * <ul>
 * <li>A fault is open while its trail is open or suspected. Without one, a system is suspect all the same while visits with codes found nothing again
 * and again, or while a reading runs toward its limit. A unit of which nothing is suspect is told so, and gets the two readings that tell most for their
 * minutes on a network nobody doubts.
 * <li>Visits on one fault between which nothing of the network was done are one body of evidence, the newest of each reading counting. Where one fault
 * is as good as certain no test tells suspects apart, and what is left is to find it: the trunk by halves, a part by its own test.
 * <li>The repairs of a briefing are the 12 that matter first and its readings the newest 40, so that a long history is told as fast as a short one.
 * <li>Next tests of all open systems stand in one list by information per minute; the weight of a fault orders the trails and the suspects.
 * <li>Of a charge-air system no circuit can be solved, so the odds of its spots are their counted leaks (rule of succession), and the gain of a test
 * follows from how often it finds a leak. Alternative: leave the gain out; then its tests could not be ordered among those of a network.
 * </ul>
 */
@NullMarked
package comebackledger.briefing;

import org.jspecify.annotations.NullMarked;
