/**
 * The codec between JSON and core's model: strict in, canonical out. Everything that maps a wire shape to core lives here and calculates nothing.
 *
 * <p>Doors: {@link comebackledger.openapi.Json} (bytes to a checked tree, or a {@link comebackledger.openapi.Problem}),
 * {@link comebackledger.openapi.Fields} (one JSON object, read strictly, every fault collected with its pointer) and the {@code …Mapping}
 * classes, one per resource.
 *
 * <p><b>Decisions.</b> Bodies are read as a tree by hand rather than bound to classes: binding stops at the first fault, and a technician
 * should hear of all of them at once. Numbers are decoded as doubles; the text as received is kept beside them, so no digit is lost. A sound body is
 * read by a way that tells nothing of what is wrong, and read again by one that does if it is not sound: faults are rare, and an import reads millions.
 *
 * <p>What every visit writes, its facts and the state of its unit, are rows by position with a checksum ({@link comebackledger.openapi.RowOut}). The
 * alternative, databind to CBOR, took twice the bytes and the time, and took some damage for content; it stays for what is written seldom and read by
 * name. Reopen it if a library writes records by position, beside the entry before, as fast. What grows with every visit stands in them in pieces that are
 * copied, not read, from row to row ({@link comebackledger.openapi.HistoryRow}); rows of their own for the pieces were not worth it, because an engine writes
 * a row of 12 kB at nearly the cost of one of 200 bytes (116 and 110 us on files).
 */
@NullMarked
package comebackledger.openapi;

import org.jspecify.annotations.NullMarked;
