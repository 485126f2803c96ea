package comebackledger.api.route;

import comebackledger.api.http.Exchange;
import comebackledger.api.http.Route;
import comebackledger.api.page.BriefingPage;
import comebackledger.api.picture.ReadingPicture;
import comebackledger.api.picture.Shown;
import comebackledger.briefing.Briefing;
import comebackledger.briefing.ReadingSeries;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.BriefingMapping;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import comebackledger.openapi.ReadingsMapping;
import io.helidon.http.HeaderName;
import io.helidon.http.HeaderNames;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** What a technician reads before the first measurement: the briefing, and the readings behind it. */
final class BriefingRoutes {
    private static final HeaderName POLICY = HeaderNames.create("Content-Security-Policy");
    /** The page brings its own style and nothing else. */
    private static final String PAGE_POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    private final Ledger ledger;

    BriefingRoutes(Ledger ledger) {
        this.ledger = ledger;
    }

    List<Route> routes() {
        return List.of(
                Route.get("/v1/units/{unit}/briefing", RouteTable.SHOP, this::briefing).asking("at").producing(Route.JSON, Route.HTML),
                Route.get("/v1/units/{unit}/readings", RouteTable.SHOP, this::list).asking("at"),
                Route.get("/v1/units/{unit}/readings/{series}", RouteTable.SHOP, this::series).asking("at").producing(Route.JSON, Route.SVG));
    }

    private void briefing(Exchange exchange) {
        Optional<Instant> at = exchange.query().time("at");
        exchange.query().check();
        String unit = exchange.parameter("unit");
        Briefing briefing = (Fields.isIdentifier(unit) ? ledger.bench().briefing(exchange.fleet(), unit, at) : Optional.<Briefing>empty())
                .orElseThrow(Exchange::unitUnknown);
        if (exchange.mediaType().equals(Route.HTML)) {
            exchange.header(POLICY, PAGE_POLICY);
            exchange.send(200, Route.HTML, BriefingPage.of(briefing, shown(exchange)).getBytes(StandardCharsets.UTF_8));
        } else {
            exchange.send(200, BriefingMapping.toWire(briefing));
        }
    }

    private Shown shown(Exchange exchange) {
        return new Shown(ledger.policy(exchange.fleet()).policy().display());
    }

    private List<ReadingSeries> all(Exchange exchange) {
        Optional<Instant> at = exchange.query().time("at");
        exchange.query().check();
        String unit = exchange.parameter("unit");
        return (Fields.isIdentifier(unit) ? ledger.bench().readings(exchange.fleet(), unit, at) : Optional.<List<ReadingSeries>>empty())
                .orElseThrow(Exchange::unitUnknown);
    }

    private void list(Exchange exchange) {
        exchange.send(200, ReadingsMapping.list(all(exchange)));
    }

    private void series(Exchange exchange) {
        String name = exchange.parameter("series");
        ReadingSeries series = all(exchange).stream().filter(one -> one.series().equals(name)).findFirst().orElseThrow(() -> new Problem(
                Slug.NOT_FOUND, "This unit has no readings of that series. `GET /v1/units/{unit}/readings` lists them."));
        if (exchange.mediaType().equals(Route.SVG)) {
            String picture = ReadingPicture.of(series, shown(exchange), exchange.parameter("unit"), "reading");
            exchange.send(200, Route.SVG, picture.getBytes(StandardCharsets.UTF_8));
        } else {
            exchange.send(200, ReadingsMapping.toWire(series));
        }
    }
}
