/**
 * How do whole fleets come in and go out, as lines of JSON or as a table?
 *
 * <p>Doors: {@link comebackledger.api.transfer.LineImport}, {@link comebackledger.api.transfer.LineExport}, and {@link comebackledger.api.transfer.Csv} for
 * any list of answers. Streams in bounded memory; knows no HTTP, so that the command line takes and gives the same. What a line or a row means stands in
 * {@code openapi}.
 */
@NullMarked
package comebackledger.api.transfer;

import org.jspecify.annotations.NullMarked;
