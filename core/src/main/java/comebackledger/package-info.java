/** Holds {@link comebackledger.Require} only; start reading at {@code comebackledger.ledger}. */
@NullMarked
package comebackledger;

import org.jspecify.annotations.NullMarked;
