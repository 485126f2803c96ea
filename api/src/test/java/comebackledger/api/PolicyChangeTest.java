package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Stored;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.PolicyMapping;
import comebackledger.openapi.TrailMapping;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Reason;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.concurrent.atomic.AtomicReference;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** A policy that changes under units that were judged already. */
class PolicyChangeTest {
    private static final Caller HOST = new Caller("default", "host");
    private static final Instant VISITED = Instant.parse("2026-03-01T08:00:00Z");

    private final AtomicReference<Instant> now = new AtomicReference<>(Instant.parse("2026-03-02T00:00:00Z"));
    private JdbcStore store;
    private Ledger ledger;

    @BeforeEach
    void tell() {
        store = JdbcStore.inMemory();
        ledger = new Ledger(store, new LedgerCodec(), now::get, (_, _, _, _) -> {});
        for (int unit = 0; unit < 5; unit++) {
            ledger.putUnit(HOST, UnitMapping.toCore("T-" + unit, bytes("{'build': {'networks': [{'name': 'can-1'}]}}")));
            // 66 ohm: outside the usual range of 60 ohm with 3 %, inside with 20 %.
            ledger.putVisit(HOST, "T-" + unit, VisitMapping.toCore("WO-" + unit, bytes("{'arrivedAt': '" + VISITED + "', 'releasedAt': '"
                    + VISITED.plusSeconds(3600)
                    + "', 'busChecks': [{'network': 'can-1', 'power': 'off', 'highLow': {'value': 66, 'unit': 'ohm'}}]}"), now.get()),
                    OptionalInt.empty());
        }
        ask(now.get());
        now.set(Instant.parse("2026-03-03T00:00:00Z"));
    }

    @AfterEach
    void close() {
        store.close();
    }

    private static byte[] bytes(String json) {
        return json.replace('\'', '"').getBytes(StandardCharsets.UTF_8);
    }

    private void policy(String json, int replaces) {
        ledger.putPolicy(HOST, PolicyMapping.toCore(bytes(json)), OptionalInt.of(replaces));
    }

    private ReadinessAnswer ask(Instant at) {
        return ledger.dispatch().readiness("default", new DispatchDesk.Question("T-3", Trip.STANDARD), Optional.of(at)).orElseThrow();
    }

    private List<Reason.Kind> reasons(Instant at) {
        return ask(at).reasons().stream().map(Reason::kind).toList();
    }

    private Stored.Fold fold() {
        return store.read("default", tx -> tx.fold("T-3")).orElseThrow();
    }

    private String standing() {
        return TrailMapping.standing(ledger.standing("default", "T-3", Optional.of(now.get())).orElseThrow()).toString();
    }

    @Test
    void policyThatJudgesAlike_takesTheRowsOver() {
        Stored.Fold before = fold();

        policy("{'evidenceMaxAgeDays': 1}", 0);

        assertEquals(1, fold().policyVersion());
        assertArrayEquals(before.state(), fold().state());
        assertEquals(List.of(Reason.Kind.EVIDENCE_TOO_OLD, Reason.Kind.OPEN_FAULT), reasons(now.get()));
        assertEquals(1, ask(now.get()).policyVersion());
        assertEquals(List.of(), ledger.verify((_, _) -> {}));
    }

    @Test
    void policyThatJudgesOtherwise_isAnsweredAtOnce_andTheRowsFollow() {
        Stored.Fold before = fold();
        assertEquals(List.of(Reason.Kind.OPEN_FAULT), reasons(now.get()));

        policy("{'bus': {'terminatorTolerance': 0.2}}", 0);

        assertEquals(List.of(), reasons(now.get()));
        String atOnce = standing();
        Awaitility.await().atMost(Duration.ofSeconds(60)).until(() -> fold().policyVersion() == 1);
        assertEquals(atOnce, standing());
        assertEquals(List.of(), reasons(now.get()));
        assertNotEquals(before.state().length, fold().state().length, "the rows are other ones");
        Awaitility.await().atMost(Duration.ofSeconds(60)).until(() -> store.read("default", tx -> tx.fold("T-4")).orElseThrow().policyVersion() == 1);
        assertEquals(List.of(), ledger.verify((_, _) -> {}));
    }

    @Test
    void pastAnswer_staysAsItWasKnownThen() {
        Instant then = Instant.parse("2026-03-02T12:00:00Z");
        ReadinessAnswer told = ask(then);

        policy("{'bus': {'terminatorTolerance': 0.2}}", 0);
        assertEquals(told, ask(then));
        Awaitility.await().atMost(Duration.ofSeconds(60)).until(() -> fold().policyVersion() == 1);
        policy("{'bus': {'terminatorTolerance': 0.2}, 'evidenceMaxAgeDays': 1}", 1);

        assertEquals(told, ask(then));
        assertEquals(0, ask(then).policyVersion());
    }
}
