/**
 * How does other software reach the ledger? The HTTP service around it, and the same routes for another server to mount.
 *
 * <p>Doors: {@link comebackledger.api.LedgerFeature} and {@link comebackledger.api.LedgerService} for a host's own Helidon server, with
 * {@link comebackledger.api.caller.Callers} filled by its security; {@link comebackledger.api.command.Main}, the command line, which starts
 * {@link comebackledger.api.RunningService}, our own server around that same service.
 *
 * <p>One request: {@link comebackledger.api.http.Answering} finds its {@link comebackledger.api.http.Route} in the one table
 * ({@link comebackledger.api.route.RouteTable}), or says 404 or 405; checks who calls, the role, the media types and the query names; then the route's handler
 * reads through {@link comebackledger.api.http.Exchange}, asks the ledger, writes. What goes wrong anywhere on that way becomes a problem document in
 * {@link comebackledger.api.http.Problems}.
 *
 * <p>The rooms, from the top; {@code RoomsTest} holds that arrows only point down:
 * <pre>
 * command                   the command line
 * (this one)                the doors, and our own server
 * route                     every route, by what it is about
 * transfer  page  picture   imports and exports; pages and pictures of answers
 * http                      one call: read, matched, answered, refused
 * caller                    who calls, and what it may do
 * setting  demo             what the service was told, and the ledger it opens; the invented fleet
 * </pre>
 *
 * <p><b>Decisions.</b>
 * <ul>
 * <li>Routes are matched by our own table, not by the server's rules: the server knows neither 405 nor HEAD nor OPTIONS by itself, and one
 * table lets the contract, the rights and the limits be read, and tested, as rows. Reopen if the server learns them.
 * <li>Errors are mapped inside the handler and never by the server's global handlers, so that mounting changes nothing for the host's other
 * routes. Only our own server adds handlers for what it refuses before routing.
 * <li>Public in a room below this one means: for the rooms above it. A host needs this package and {@code caller}.
 * </ul>
 */
@NullMarked
package comebackledger.api;

import org.jspecify.annotations.NullMarked;
