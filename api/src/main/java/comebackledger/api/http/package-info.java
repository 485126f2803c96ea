/**
 * How is one call read, matched to its route, answered or refused?
 *
 * <p>Door: {@link comebackledger.api.http.Answering}; routes are made with {@link comebackledger.api.http.Route} and see a call as an
 * {@link comebackledger.api.http.Exchange}. Knows nothing of the ledger but that its store may be away.
 *
 * <p><b>Decisions.</b>
 * <ul>
 * <li>The watchdog interrupts a thread only while it waits for the caller's bytes, never inside the store: an interrupt closes the file of the
 * embedded engine for everybody.
 * <li>Query names that a route does not know are refused like unknown fields: a trip asked for with a mistyped distance must not be answered
 * for another trip.
 * </ul>
 */
@NullMarked
package comebackledger.api.http;

import org.jspecify.annotations.NullMarked;
