/**
 * Numbers only: trend tests, rates, survival, charts and robust slopes, on plain arrays.
 *
 * <p>No one door: each class is one method of statistics, its Javadoc enough to recompute a result by hand. Distributions and special functions come
 * from Apache Commons. Where theory gives no figure a result is empty, with the reason beside it; no NaN leaves this room.
 */
@NullMarked
package comebackledger.stat;

import org.jspecify.annotations.NullMarked;
