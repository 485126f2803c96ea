/**
 * The evidence of one shop visit, as it was received and decoded.
 *
 * <p>Door: {@link comebackledger.visit.Visit}. Knows units of measure and places; judges nothing.
 *
 * <p><b>Decisions.</b> Two visits are the same content when these records are equal: numbers by value, times by instant. What is impossible
 * in itself cannot be built; what contradicts other evidence can, and is warned of where it is judged.
 */
@NullMarked
package comebackledger.visit;

import org.jspecify.annotations.NullMarked;
