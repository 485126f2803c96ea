/**
 * One vehicle and its build: the networks, the charge-air system and the engine that its readings are judged against.
 *
 * <p>Door: {@link comebackledger.unit.Unit}. Everything but the identifier may be missing; what is not known makes answers wider, not wrong.
 *
 * <p><b>Decisions.</b> A list that was not sent ({@code Optional.empty()}) differs from an empty one: without a list in the build nothing
 * that a visit names contradicts it.
 */
@NullMarked
package comebackledger.unit;

import org.jspecify.annotations.NullMarked;
