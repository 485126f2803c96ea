package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertNotSame;
import static org.junit.jupiter.api.Assertions.assertSame;

import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk.Question;
import comebackledger.ledger.DispatchDesk.Told;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.PolicyMapping;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.Answer;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** A dispatch answer is the same one again while it holds, and another as soon as anything it rests on moved. */
class KeptReadinessTest {
    private static final Caller ADA = new Caller("fleet", "ada");

    private final JdbcStore store = JdbcStore.inMemory();
    private Instant now = Instant.parse("2026-03-01T08:00:00Z");
    private final Ledger ledger = new Ledger(store, new LedgerCodec(), (InstantSource) () -> now, (_, _, _, _) -> {});
    private final Ledger other = new Ledger(store, new LedgerCodec(), (InstantSource) () -> now, (_, _, _, _) -> {});

    @BeforeEach
    void record() {
        for (String unit : List.of("T-1", "T-2")) {
            ledger.putUnit(ADA, UnitMapping.toCore(unit, utf8("{}")));
            visit(ledger, unit, "WO-1", "");
        }
        told(ledger, "T-1"); // the first question learns the first baseline
        now = now.plusSeconds(60);
    }

    @AfterEach
    void close() {
        store.close();
    }

    private static byte[] utf8(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private void visit(Ledger by, String unit, String visit, String more) {
        by.putVisit(ADA, unit,
                VisitMapping.toCore(visit,
                        utf8("{\"arrivedAt\": \"" + now.minusSeconds(60) + "\", \"releasedAt\": \"" + now.minusSeconds(30) + "\"" + more + "}"),
                        now),
                OptionalInt.empty());
    }

    private Told told(Ledger by, String unit) {
        return told(by, unit, by.dispatch().now("fleet", Optional.empty()));
    }

    private static Told told(Ledger by, String unit, Instant now) {
        return by.dispatch().told("fleet", List.of(new Question(unit, Trip.STANDARD)), Optional.empty(), now).getFirst().orElseThrow();
    }

    /** The clock was read, then the visit came, then the question: its answer does not know the visit, and the next one must. */
    @Test
    void answer_whenAVisitComesBetweenClockAndQuestion_isToldOnce() {
        Instant read = now;
        now = now.plusMillis(1);
        visit(ledger, "T-1", "WO-2", ", \"outOfService\": {\"declared\": true}");

        Told late = told(ledger, "T-1", read);

        assertNotEquals(Answer.HOLD, late.answer().answer());
        assertEquals(Answer.HOLD, told(ledger, "T-1").answer().answer());
    }

    /** Likewise of what the fleet teaches. */
    @Test
    void answer_whenTheBaselineIsLearnedBetweenClockAndQuestion_isToldOnce() {
        Instant read = now;
        now = now.plusMillis(1);
        ledger.baselines().learn("fleet");

        Told late = told(ledger, "T-1", read);

        assertNotSame(late, told(ledger, "T-1"));
    }

    @Test
    void answer_whileNothingHappens_isTheSame() {
        Told first = told(ledger, "T-1");
        now = now.plusSeconds(3600);

        assertSame(first, told(ledger, "T-1"));
        assertEquals(now, ledger.dispatch().readiness("fleet", new Question("T-1", Trip.STANDARD), Optional.empty()).orElseThrow().at());
        assertNotSame(first, told(ledger, "T-2"));
    }

    @Test
    void answer_afterItsEnd_isAnother() {
        Told first = told(ledger, "T-1");
        now = first.answer().validUntil();

        assertNotSame(first, told(ledger, "T-1"));
    }

    /** By the other ledger over the same store: its unit's answer moves, the neighbour's stays. */
    @Test
    void answer_whenAnotherProcessRecordsAVisit_isAnotherAtOnce() {
        Told first = told(ledger, "T-1");
        Told neighbour = told(ledger, "T-2");
        visit(other, "T-1", "WO-2", ", \"outOfService\": {\"declared\": true}");

        assertEquals(Answer.HOLD, told(ledger, "T-1").answer().answer());
        assertSame(neighbour, told(ledger, "T-2"));
        assertNotSame(first, told(ledger, "T-1"));
    }

    @Test
    void answer_underAnotherPolicy_isAnother() {
        told(ledger, "T-1");
        other.putPolicy(ADA, PolicyMapping.toCore(utf8("{\"evidenceMaxAgeDays\": 1}")), OptionalInt.of(0));
        now = now.plus(Duration.ofDays(2));

        assertEquals(Answer.UNKNOWN, told(ledger, "T-1").answer().answer());
        assertEquals(1, told(ledger, "T-1").answer().policyVersion());
    }

    @Test
    void answer_whenAnotherProcessLearns_isAnother() {
        Told first = told(ledger, "T-1");
        other.baselines().learn("fleet");

        assertNotSame(first, told(ledger, "T-1"));
    }
}
