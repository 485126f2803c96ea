package comebackledger.api;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.TransferDesk;
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
                Route.get("/v1/exports", RouteTable.CARRIERS, this::give).producing(Route.LINES));
    }

    private void take(Exchange exchange) {
        boolean mayChangePolicy = exchange.caller().roles().contains(Role.ADMINISTRATOR);
        LineImport lines = new LineImport(ledger, exchange.caller().inLedger(), mayChangePolicy);
        try (InputStream in = exchange.stream()) {
            lines.takeAll(in, _ -> {});
        } catch (IOException e) {
            throw new Problem(Problem.Slug.BAD_REQUEST,
                    "The body ended before its announced end. " + lines.accepted() + " lines were accepted and are "
                            + "kept; send all of it again, and those change nothing.");
        }
        ObjectNode answer = JsonNodeFactory.instance.objectNode();
        answer.put("accepted", lines.accepted()).put("unchanged", lines.unchanged()).put("rejected", lines.rejected());
        answer.set("problems", lines.problems());
        exchange.send(200, answer);
    }

    private void give(Exchange exchange) {
        exchange.stream(Route.LINES, out -> new TransferDesk(ledger).give(exchange.fleet(), new LineExport(out)));
    }
}
