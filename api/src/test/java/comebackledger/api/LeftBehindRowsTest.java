package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.baseline.Baseline;
import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.PlannerDesk;
import comebackledger.ledger.Stored;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeSet;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Derived rows that newer tables left empty: every answer is what it was, and the rows are made again on the way. */
class LeftBehindRowsTest {
    private static final Caller HOST = new Caller("default", "host");
    private static final Instant NOW = Instant.parse("2026-06-01T00:00:00Z");
    private static final int UNITS = 12;

    private final JdbcStore store = JdbcStore.inMemory();
    private Ledger ledger = opened();

    @BeforeEach
    void tell() {
        for (int unit = 0; unit < UNITS; unit++) {
            ledger.putUnit(HOST, UnitMapping.toCore("T-" + unit, bytes("{'inServiceAt': '2024-01-01T00:00:00Z'}")));
            for (int month = 1; month <= 1 + unit % 4; month++) {
                visit("T-" + unit, "WO-" + unit + "-" + month, "2026-0" + month + "-10");
            }
        }
    }

    @AfterEach
    void close() {
        store.close();
    }

    private Ledger opened() {
        return new Ledger(store, new LedgerCodec(), () -> NOW, (_, _, _, _) -> {});
    }

    private static byte[] bytes(String json) {
        return json.replace('\'', '"').getBytes(StandardCharsets.UTF_8);
    }

    private void visit(String unit, String visit, String day) {
        ledger.putVisit(HOST, unit, VisitMapping.toCore(visit, bytes("{'arrivedAt': '" + day + "T08:00:00Z', 'releasedAt': '" + day
                + "T12:00:00Z', 'meters': {'odometer': {'value': " + Integer.parseInt(day.substring(5, 7)) * 10_000 + ", 'unit': 'km'}},"
                + " 'chargeAirTests': [{'method': 'smoke', 'leaksAt': ['core']}],"
                + " 'repairs': [{'place': 'charge-air.core', 'action': 'cleaned', 'claimsFixed': true}]}"), NOW), OptionalInt.empty());
    }

    private List<Object> answers() {
        PlannerDesk.Question all = new PlannerDesk.Question(Optional.empty(), Optional.empty(), Optional.of(NOW));
        List<Object> answers = new ArrayList<>();
        answers.add(ledger.planner().offenders("default", all, 100).content());
        answers.add(ledger.planner().patterns("default", all).content());
        for (int unit = 0; unit < UNITS; unit++) {
            answers.add(ledger.dispatch().readiness("default", new DispatchDesk.Question("T-" + unit, Trip.STANDARD), Optional.empty()).orElseThrow()
                    .reasons());
        }
        return answers;
    }

    private void leaveAll() {
        Stored.Fold left = new Stored.Fold(1, Stored.UNDER_NO_POLICY, Optional.empty(), new byte[0], new byte[0]);
        store.write("default", tx -> {
            for (int unit = 0; unit < UNITS; unit++) {
                tx.lock(new TreeSet<>(List.of("T-" + unit)));
                for (int month = 1; month <= 1 + unit % 4; month++) {
                    tx.dropFacts("T-" + unit, "WO-" + unit + "-" + month);
                }
                tx.keepFold("T-" + unit, left);
            }
            return true;
        });
        ledger = opened(); // what the process that changed the tables knew is gone
    }

    @Test
    void answers_areAsBefore() {
        ledger.baselines().learn("default");
        List<Object> before = answers();

        leaveAll();

        assertEquals(before, answers());
        assertEquals(List.of(), ledger.verify((_, _) -> {}));
        assertEquals(Optional.of(0), store.<Optional<Integer>>read("default", tx -> tx.fold("T-3").map(Stored.Fold::policyVersion)), "made again");
    }

    @Test
    void learning_readsEveryUnitAgain() {
        Baseline before = ledger.baselines().learn("default").orElseThrow();

        leaveAll();
        Baseline after = ledger.baselines().learn("default").orElseThrow();

        assertEquals(List.of(UNITS, before.visits()), List.of(after.units(), after.visits()));
        assertTrue(before.visits() > UNITS, "there was something to learn");
    }

    @Test
    void nextVisit_standsOnAllBeforeIt() {
        leaveAll();

        visit("T-3", "WO-3-5", "2026-05-10");

        assertEquals(5, ledger.standing("default", "T-3", Optional.of(NOW)).orElseThrow().view().trails().getFirst().repairs().size());
    }
}
