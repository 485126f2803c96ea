/**
 * The door: what a host calls, and the ports it fills.
 *
 * @see comebackledger.ledger.Store
 */
@NullMarked
package comebackledger.ledger;

import org.jspecify.annotations.NullMarked;
