/**
 * The codec between JSON and core's model: strict in, canonical out. Everything that maps a wire shape to core lives here and calculates nothing.
 *
 * <p>Doors: {@link comebackledger.openapi.Json} (bytes to a checked tree, or a {@link comebackledger.openapi.Problem}),
 * {@link comebackledger.openapi.Fields} (one JSON object, read strictly, every fault collected with its pointer) and the {@code …Mapping}
 * classes, one per resource.
 *
 * <p><b>Decisions.</b> Bodies are read as a tree by hand rather than bound to classes: binding stops at the first fault, and a technician
 * should hear of all of them at once. Numbers are decoded as doubles; the text as received is kept beside them, so no digit is lost.
 */
@NullMarked
package comebackledger.openapi;

import org.jspecify.annotations.NullMarked;
