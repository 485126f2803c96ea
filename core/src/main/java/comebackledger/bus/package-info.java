/**
 * What do the readings of one CAN trunk say: is it as its build allows, what is wrong with it, and which test should come next?
 *
 * <p>Door: {@link comebackledger.bus.BusCheck#judge} from readings to suspects, {@link comebackledger.bus.BusModel#readings} from faults to
 * readings. One visit, one network: no history beyond the repairs it is told of, and no types of units, visits or policies.
 *
 * <p><b>Decisions.</b>
 * <ul>
 * <li>The circuit is solved by eliminating one node after another as star-mesh steps along the trunk, not by a matrix: the trunk is a chain,
 * so a step needs four terminals (high, low, ground, positive cable), every term is positive and nothing cancels, and a break is an exact
 * zero. A dense nodal analysis in the tests is the independent second solution. Reopen it for a network with loops.
 * <li>No table leads from a reading to a fault. Each fault of the vocabulary is laid on the build and predicted, and Bayes' rule does the
 * rest, so the same ohms on another build give other odds.
 * <li>Readings that fit nothing together stay with {@code other} among the suspects, and the next tests are told as if one of them were misread, each as
 * likely, else all: to read again is then a test like any other ({@link comebackledger.bus.Doubt}). Alternative: weigh a misread number into every posterior,
 * which needs a share of misread numbers that nobody knows; reopen it where a fleet has counted them.
 * <li>The meter's verdict speaks of readings alone. A silent module is no reading: whoever merges the evidence weighs it.
 * </ul>
 */
@NullMarked
package comebackledger.bus;

import org.jspecify.annotations.NullMarked;
