package comebackledger.api.route;

import comebackledger.api.caller.Role;
import comebackledger.api.http.Body;
import comebackledger.api.http.Exchange;
import comebackledger.api.http.Route;
import comebackledger.api.transfer.LineExport;
import comebackledger.api.transfer.LineImport;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.Problem;
import java.io.IOException;
import java.io.InputStream;
import java.util.List;

/** Imports and exports, line by line and in bounded memory. */
final class BulkRoutes {
    private final Ledger ledger;

    BulkRoutes(Ledger ledger) {
        this.ledger = ledger;
    }

    List<Route> routes() {
        return List.of(
                Route.post("/v1/imports", RouteTable.CARRIERS, Body.LINES, this::take),
                Route.get("/v1/exports", RouteTable.CARRIERS, this::give).producing(Route.LINES, Route.CSV));
    }

    private void take(Exchange exchange) {
        boolean mayChangePolicy = exchange.caller().roles().contains(Role.ADMINISTRATOR);
        LineImport lines = new LineImport(ledger, exchange.caller().inLedger(), mayChangePolicy);
        try (InputStream in = exchange.stream()) {
            if (exchange.sentType().equals(Route.CSV)) {
                lines.takeTable(in, _ -> {});
            } else {
                lines.takeLines(in, _ -> {});
            }
        } catch (IOException e) {
            throw new Problem(Problem.Slug.BAD_REQUEST,
                    "The body ended before its announced end. " + lines.tally().accepted() + " lines were accepted and are "
                            + "kept; send all of it again, and those change nothing.");
        }
        exchange.send(200, lines.tally().toWire());
    }

    private void give(Exchange exchange) {
        if (exchange.mediaType().equals(Route.CSV)) {
            exchange.stream(Route.CSV, out -> new LineExport(out, _ -> {}).giveTable(ledger, exchange.fleet()));
        } else {
            exchange.stream(Route.LINES, out -> new LineExport(out, _ -> {}).giveLines(ledger, exchange.fleet()));
        }
    }
}
