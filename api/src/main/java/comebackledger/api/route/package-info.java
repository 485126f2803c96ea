/**
 * Which calls are there, who may make them, and what does each ask of the ledger?
 *
 * <p>Door: {@link comebackledger.api.route.RouteTable}; one class for what a group of paths is about. A route reads, asks, writes: what JSON means stands in
 * {@code openapi}, what is answered in {@code core}.
 */
@NullMarked
package comebackledger.api.route;

import org.jspecify.annotations.NullMarked;
