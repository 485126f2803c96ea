/**
 * How does other software reach the ledger? The HTTP service around it, and the same routes for another server to mount.
 *
 * <p>Doors: {@link comebackledger.api.Main} (command line), {@link comebackledger.api.LedgerFeature} and
 * {@link comebackledger.api.LedgerService} (a host's own Helidon server, with {@link comebackledger.api.Callers} filled by its security).
 *
 * <p>One request: {@code LedgerService} hands it to {@code Router}, which finds its {@code Route} in the one table, or says 404 or 405; checks
 * who calls, the role, the media types and the query names; then the route's handler reads through {@code Exchange}, asks the ledger, writes.
 * What goes wrong anywhere on that way becomes a problem document in {@code Problems}.
 *
 * <p><b>Decisions.</b>
 * <ul>
 * <li>Routes are matched by our own table, not by the server's rules: the server knows neither 405 nor HEAD nor OPTIONS by itself, and one
 * table lets the contract, the rights and the limits be read, and tested, as rows. Reopen if the server learns them.
 * <li>Errors are mapped inside the handler and never by the server's global handlers, so that mounting changes nothing for the host's other
 * routes. Only our own server adds handlers for what it refuses before routing.
 * <li>The watchdog interrupts a thread only while it waits for the caller's bytes, never inside the store: an interrupt closes the file of the
 * embedded engine for everybody.
 * <li>Query names that a route does not know are refused like unknown fields: a trip asked for with a mistyped distance must not be answered
 * for another trip.
 * </ul>
 */
@NullMarked
package comebackledger.api;

import org.jspecify.annotations.NullMarked;
