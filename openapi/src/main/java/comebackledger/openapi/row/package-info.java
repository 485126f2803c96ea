/**
 * How is what was derived kept as bytes? Facts of a visit, state and compact row of a unit.
 *
 * <p>Doors: {@link comebackledger.openapi.row.FactsRow}, {@link comebackledger.openapi.row.StateRow}, {@link comebackledger.openapi.row.SummaryRow}. Equal
 * content gives equal bytes; bytes that are damaged, or of another form, are refused and made again from evidence. No caller of the service sees a row.
 *
 * <p><b>Decisions.</b> What every visit writes, its facts and the state of its unit, are rows by position with a checksum ({@link
 * comebackledger.openapi.row.RowOut}). The alternative, databind to CBOR, took twice the bytes and the time, and took some damage for content; it stays
 * for what is written seldom and read by name. Reopen it if a library writes records by position, beside the entry before, as fast. What grows with every
 * visit stands in them in pieces that are copied, not read, from row to row ({@link comebackledger.openapi.row.HistoryRow}); rows of their own for the
 * pieces were not worth it, because an engine writes a row of 12 kB at nearly the cost of one of 200 bytes (116 and 110 us on files).
 */
@NullMarked
package comebackledger.openapi.row;

import org.jspecify.annotations.NullMarked;
