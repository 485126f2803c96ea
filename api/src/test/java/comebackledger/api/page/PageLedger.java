package comebackledger.api.page;

import static org.junit.jupiter.api.Assertions.assertInstanceOf;

import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.api.picture.Shown;
import comebackledger.briefing.Briefing;
import comebackledger.briefing.ReadingSeries;
import comebackledger.ledger.Caller;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Outcome;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.policy.Policy.Display;
import comebackledger.storage.JdbcStore;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/** A real ledger in a file, asked for pages at one instant. */
final class PageLedger implements AutoCloseable {
    static final Shown METRIC = new Shown(Display.METRIC);
    private static final String FLEET = "default";

    private final JdbcStore store;
    private final Ledger ledger;
    private final Instant at;

    PageLedger(Path folder, Instant at) {
        this.store = JdbcStore.embedded(folder);
        this.ledger = new Ledger(store, new LedgerCodec(), () -> at, (_, _, _, _) -> {});
        this.at = at;
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    void unit(String unit, String json) {
        assertInstanceOf(Outcome.Created.class, ledger.putUnit(new Caller(FLEET, "test"), UnitMapping.toCore(unit, bytes(json))), unit);
    }

    void visit(String unit, String visit, String json) {
        assertInstanceOf(Outcome.Created.class,
                ledger.putVisit(new Caller(FLEET, "test"), unit, VisitMapping.toCore(visit, bytes(json), at), OptionalInt.empty()), visit);
    }

    /** One line as an import takes it. */
    void line(ObjectNode line) {
        ObjectNode unit = line.withObject("/unit");
        ObjectNode visit = line.withObject("/visit");
        if (visit.isEmpty()) {
            String id = unit.remove("id").asText();
            unit(id, unit.toString());
        } else {
            String id = visit.remove("id").asText();
            String of = visit.remove("unit").asText();
            visit(of, id, visit.toString());
        }
    }

    Briefing briefing(String unit) {
        return ledger.bench().briefing(FLEET, unit, Optional.of(at)).orElseThrow();
    }

    String page(String unit) {
        return BriefingPage.of(briefing(unit), METRIC);
    }

    List<ReadingSeries> readings(String unit) {
        return ledger.bench().readings(FLEET, unit, Optional.of(at)).orElseThrow();
    }

    @Override
    public void close() {
        store.close();
    }
}
