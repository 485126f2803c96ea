/**
 * What trouble codes say: from text, hexadecimal bytes, frames or a whole bus log to codes, lamps and their meaning.
 *
 * <p>Doors: {@link comebackledger.code.Candump} for logs, {@link comebackledger.code.ObdResponse}, {@link comebackledger.code.UdsResponse} and
 * {@link comebackledger.code.DmMessage} for answers by themselves, {@link comebackledger.code.J2012Code} for text, and
 * {@link comebackledger.code.CodeMeaning} for system, accused module and sentence. Knows no vehicle, no visit and no history.
 *
 * <p><b>Decisions.</b>
 * <ul>
 * <li>No reader throws for what it reads: what cannot be read becomes a {@link comebackledger.code.Rejection} that names the place. A log from a
 * shop is rarely whole, and one torn line must not cost the other nine thousand.
 * <li>A broken segmented message is rejected once, where it broke; its remaining segments are passed over until the sender starts a new one.
 * Alternative: a rejection per segment, which buries the cause under up to 255 echoes.
 * <li>A trouble code whose conversion bit is set keeps every possible number and never picks one. Reopen it if a sender's version can be known.
 * <li>Tables are files beside the classes, each row with its source, so that a correction touches no code.
 * </ul>
 */
@NullMarked
package comebackledger.code;

import org.jspecify.annotations.NullMarked;
