/**
 * The codec between JSON and core's model: strict in, canonical out. Everything that maps a wire shape to core lives here and calculates nothing.
 *
 * <p>Doors: {@link comebackledger.openapi.Json} (bytes to a checked tree, or a {@link comebackledger.openapi.Problem}),
 * {@link comebackledger.openapi.Fields} (one JSON object, read strictly, every fault collected with its pointer) and the {@code …Mapping}
 * classes, one per resource; {@link comebackledger.openapi.LedgerCodec} fills the ledger's port, its derived rows by the room {@code row}; the room
 * {@code calculation} maps the calculations.
 *
 * <p><b>Decisions.</b> Bodies are read as a tree by hand rather than bound to classes: binding stops at the first fault, and a technician
 * should hear of all of them at once. Numbers are decoded as doubles; the text as received is kept beside them, so no digit is lost. A sound body is
 * read by a way that tells nothing of what is wrong, and read again by one that does if it is not sound: faults are rare, and an import reads millions.
 */
@NullMarked
package comebackledger.openapi;

import org.jspecify.annotations.NullMarked;
