/**
 * The wire shapes of the calculations that need nothing stored: one mapping class each, from a strict JSON object to core and back.
 *
 * <p>Doors: the {@code answer} method of each {@code …Mapping}. They calculate nothing.
 */
@NullMarked
package comebackledger.openapi.calculation;

import org.jspecify.annotations.NullMarked;
