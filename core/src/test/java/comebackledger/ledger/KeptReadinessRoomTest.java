package comebackledger.ledger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.baseline.Taught;
import comebackledger.policy.Policy;
import comebackledger.readiness.Readiness;
import comebackledger.trail.UnitState;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitView;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** What is kept of dispatch answers never passes its room, and a fleet gives room up at once when another one wants it. */
class KeptReadinessRoomTest {
    private static final Instant AT = Instant.parse("2026-03-01T08:00:00Z");
    private static final Stored.Mark NOTHING_YET = new Stored.Mark(-1, 0);

    private final KeptReadiness kept = new KeptReadiness();

    private static Readiness said(String unit) {
        UnitSummary summary = new UnitSummary(unit, Optional.empty(), new TreeMap<>(), Optional.empty(), Optional.empty(), Optional.empty(),
                Optional.empty(), List.of(), List.of(), List.of());
        Taught taught = Taught.of(UnitView.of(UnitState.EMPTY, Policy.DEFAULT, AT), summary, Optional.empty());
        return Readiness.of(unit, () -> {
            throw new AssertionError("nothing of a network is to be weighed");
        }, taught, 0, List.of());
    }

    private void keep(int from, int to) {
        IntStream.range(from, to).forEach(i -> kept.keep(said("T-" + i), NOTHING_YET));
    }

    private long known() {
        return IntStream.range(0, 20).filter(i -> kept.holds("T-" + i, AT)).count();
    }

    @Test
    void beyondTheRoom_othersLeave() {
        kept.room(5);
        keep(0, 4);
        assertTrue(kept.hasRoom());
        assertEquals(4, known());

        keep(4, 20);

        assertEquals(5, known());
        assertFalse(kept.hasRoom());
    }

    @Test
    void lessRoom_isGivenUpAtOnce() {
        keep(0, 20);
        assertEquals(20, known());

        kept.room(7);

        assertEquals(7, known());
    }

    @Test
    void aViewThatOthersHavePassed_isNotKept() {
        kept.keep(said("T-0"), new Stored.Mark(3, 0));

        assertEquals(0, known());
    }
}
