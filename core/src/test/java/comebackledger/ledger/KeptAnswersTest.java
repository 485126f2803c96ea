package comebackledger.ledger;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;

class KeptAnswersTest {
    private static final Duration CHEAP = Duration.ofMillis(100);
    private static final Duration DEAR = Duration.ofSeconds(5);

    private final KeptAnswers kept = new KeptAnswers();
    private Instant now = Instant.parse("2026-03-01T08:00:00Z");
    private KeptAnswers.Standing standing = new KeptAnswers.Standing(new Stored.Mark(10, 1), 1);
    private int made;

    private int ask(Object question, Duration cost) {
        return kept.answer(question, () -> standing, () -> now, () -> {
            now = now.plus(cost);
            made++;
            return new PlannerDesk.Answer<>(made, now, 1, 1);
        }).content();
    }

    private void recorded() {
        standing = new KeptAnswers.Standing(new Stored.Mark(standing.mark().position() + 1, 1), 1);
    }

    @Test
    void answer_whileNothingChanges_isToldAgainForAQuarterOfAnHour() {
        assertEquals(1, ask("offenders", CHEAP));
        now = now.plusSeconds(890);
        assertEquals(1, ask("offenders", CHEAP));
        assertEquals(2, ask("patterns", CHEAP));
        now = now.plusSeconds(15);
        assertEquals(3, ask("offenders", CHEAP));
    }

    @Test
    void answer_whenCheap_isMadeAgainAfterEveryVisit() {
        assertEquals(1, ask("offenders", CHEAP));
        recorded();
        assertEquals(2, ask("offenders", CHEAP));
    }

    /** Visits come in all the time: the fleet is read once in twenty times what that takes. */
    @Test
    void answer_whenDear_isMadeAgainOnceInTwentyTimesItsCost() {
        for (int second = 0; second < 1050; second++) {
            recorded();
            ask("offenders", DEAR);
            now = now.plusSeconds(1);
        }

        assertEquals(11, made, 1.0);
    }

    @Test
    void answer_underAnotherPolicy_isMadeAgainHoweverDear() {
        assertEquals(1, ask("offenders", DEAR));
        standing = new KeptAnswers.Standing(new Stored.Mark(11, 1), 2);
        assertEquals(2, ask("offenders", DEAR));
    }

    @Test
    void answer_whenManyAskAtOnce_isMadeOnce() throws Exception {
        AtomicInteger calls = new AtomicInteger();
        List<Future<Integer>> answers = new ArrayList<>();
        try (var threads = Executors.newFixedThreadPool(8)) {
            for (int i = 0; i < 8; i++) {
                answers.add(threads.submit(() -> kept.answer("offenders", () -> standing, () -> now, () -> {
                    try {
                        Thread.sleep(50);
                    } catch (InterruptedException e) {
                        throw new IllegalStateException(e);
                    }
                    return new PlannerDesk.Answer<>(calls.incrementAndGet(), now, 1, 1);
                }).content()));
            }
            for (Future<Integer> answer : answers) {
                assertEquals(1, answer.get());
            }
        }
    }
}
