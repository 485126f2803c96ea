package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk.Question;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.PolicyMapping;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.Answer;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
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
            visit(ledger, unit, "WO-0", odometer(100_000));
            now = now.plus(Duration.ofDays(10));
            visit(ledger, unit, "WO-1", odometer(103_000));
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

    private static String odometer(int km) {
        return ", \"meters\": {\"odometer\": {\"value\": " + km + ", \"unit\": \"km\"}}";
    }

    private void visit(Ledger by, String unit, String visit, String more) {
        by.putVisit(ADA, unit,
                VisitMapping.toCore(visit,
                        utf8("{\"arrivedAt\": \"" + now.minusSeconds(60) + "\", \"releasedAt\": \"" + now.minusSeconds(30) + "\"" + more + "}"),
                        now),
                OptionalInt.empty());
    }

    private ReadinessAnswer told(Ledger by, String unit) {
        return told(by, unit, by.dispatch().now("fleet", Optional.empty()));
    }

    private static ReadinessAnswer told(Ledger by, String unit, Instant now) {
        return told(by, unit, Trip.STANDARD, now);
    }

    private static ReadinessAnswer told(Ledger by, String unit, Trip trip, Instant now) {
        return by.dispatch().told("fleet", List.of(new Question(unit, trip)), Optional.empty(), now).getFirst().orElseThrow();
    }

    /** The clock was read, then the visit came, then the question: its answer does not know the visit, and the next one must. */
    @Test
    void answer_whenAVisitComesBetweenClockAndQuestion_isToldOnce() {
        Instant read = now;
        now = now.plusMillis(1);
        visit(ledger, "T-1", "WO-2", ", \"outOfService\": {\"declared\": true}");

        ReadinessAnswer late = told(ledger, "T-1", read);

        assertNotEquals(Answer.HOLD, late.answer());
        assertEquals(Answer.HOLD, told(ledger, "T-1").answer());
    }

    /** Likewise of what the fleet teaches. */
    @Test
    void answer_whenTheBaselineIsLearnedBetweenClockAndQuestion_isToldOnce() {
        Instant read = now;
        now = now.plusMillis(1);
        ledger.baselines().learn("fleet");

        ReadinessAnswer late = told(ledger, "T-1", read);

        assertEquals(1, baselineOf(late));
        assertEquals(2, baselineOf(told(ledger, "T-1")));
    }

    private static int baselineOf(ReadinessAnswer answer) {
        return answer.risk().orElseThrow().baselineVersion();
    }

    @Test
    void answer_whileNothingHappens_isTheSame() {
        ReadinessAnswer first = told(ledger, "T-1");
        now = now.plusSeconds(3600);

        assertEquals(first, told(ledger, "T-1"));
        assertEquals(now, ledger.dispatch().readiness("fleet", new Question("T-1", Trip.STANDARD), Optional.empty()).orElseThrow().at());
    }

    /** The first question has all units looked at, so that none of them is a first one any more. */
    @Test
    void answer_ofAUnitNobodyAskedAbout_isKnownAlready() throws InterruptedException {
        for (Thread thread : Thread.getAllStackTraces().keySet()) {
            if (thread.getName().equals("readiness-ahead")) {
                thread.join();
            }
        }
        now = now.plusSeconds(3600);

        assertTrue(told(ledger, "T-2").at().isBefore(now), "T-2 is looked at only now");
        assertEquals(now, told(other, "T-2").at());
    }

    /** What is kept is the unit's; the trip's risk is its own, as it would have been told at that moment. */
    @Test
    void answer_forAnotherTrip_isOfTheSameMoment() {
        ReadinessAnswer first = told(ledger, "T-1");
        now = now.plusSeconds(3600);
        Trip far = new Trip(OptionalDouble.of(5000), OptionalDouble.empty());

        ReadinessAnswer other = told(ledger, "T-1", far, now);

        assertEquals(first.at(), other.at());
        assertTrue(first.risk().orElseThrow().probability() < other.risk().orElseThrow().probability());
        assertEquals(ledger.dispatch().readiness("fleet", new Question("T-1", far), Optional.of(first.at())).orElseThrow(), other);
        assertEquals(first, told(ledger, "T-1"));
    }

    @Test
    void answer_afterItsEnd_isAnother() {
        ReadinessAnswer first = told(ledger, "T-1");
        now = first.validUntil();

        assertEquals(now, told(ledger, "T-1").at());
    }

    /** By the other ledger over the same store: its unit's answer moves, the neighbour's stays. */
    @Test
    void answer_whenAnotherProcessRecordsAVisit_isAnotherAtOnce() {
        told(ledger, "T-1");
        ReadinessAnswer neighbour = told(ledger, "T-2");
        now = now.plusSeconds(1);
        visit(other, "T-1", "WO-2", ", \"outOfService\": {\"declared\": true}");

        assertEquals(Answer.HOLD, told(ledger, "T-1").answer());
        assertEquals(neighbour, told(ledger, "T-2"));
    }

    @Test
    void answer_underAnotherPolicy_isAnother() {
        told(ledger, "T-1");
        other.putPolicy(ADA, PolicyMapping.toCore(utf8("{\"evidenceMaxAgeDays\": 1}")), OptionalInt.of(0));
        now = now.plus(Duration.ofDays(2));

        assertEquals(Answer.UNKNOWN, told(ledger, "T-1").answer());
        assertEquals(1, told(ledger, "T-1").policyVersion());
    }

    @Test
    void answer_whenAnotherProcessLearns_isAnother() {
        assertEquals(1, baselineOf(told(ledger, "T-1")));
        other.baselines().learn("fleet");

        assertEquals(2, baselineOf(told(ledger, "T-1")));
    }
}
