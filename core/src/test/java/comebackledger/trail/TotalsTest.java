package comebackledger.trail;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.measure.MeterLine;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

class TotalsTest {
    private static final Instant FIRST = Instant.parse("1969-12-31T23:59:59.999999999Z");
    private static final Instant SECOND = Instant.parse("2026-03-01T08:00:00Z");
    private static final Instant THIRD = Instant.parse("2026-04-01T08:00:00.5Z");
    private static final Totals KM = Totals.km(List.of(metered(FIRST, 10, 0), metered(SECOND, 20, 0), metered(THIRD, 5, 1)), Optional.empty());

    private static UnitSummary.Metered metered(Instant at, double km, int piece) {
        return new UnitSummary.Metered(at, OptionalDouble.of(km), piece, OptionalDouble.empty(), -1);
    }

    @Test
    void until_keepsThoseThatAreNotLater() {
        assertEquals(0, KM.until(FIRST.minusNanos(1)).size());
        assertEquals(1, KM.until(FIRST).size());
        assertEquals(2, KM.until(THIRD.minusNanos(1)).size());
        assertEquals(3, KM.until(THIRD).size());
        assertEquals(3, KM.until(Instant.MAX).size());
        assertEquals(0, KM.until(Instant.MIN).size());
        assertEquals(KM, KM.until(THIRD));
    }

    /** The same double as between the instants, or a told exposure would change with how it is kept. */
    @Test
    void days_areThoseBetweenTheInstants() {
        assertEquals(FIRST, KM.at(0));
        assertEquals(MeterLine.daysBetween(FIRST, SECOND), KM.daysBetween(0, 1));
        assertEquals(MeterLine.daysBetween(SECOND, THIRD), KM.daysBetween(1, 2));
        assertEquals(MeterLine.daysBetween(THIRD, SECOND), KM.daysBetween(2, 1));
        assertEquals(MeterLine.daysBetween(SECOND, Instant.MAX), KM.daysUntil(1, Instant.MAX));
    }

    @Test
    void joins_onlyWithinAPiece() {
        assertFalse(KM.joins(0));
        assertTrue(KM.joins(1));
        assertFalse(KM.joins(2));
        assertEquals(0, Totals.engineHours(List.of(metered(FIRST, 10, 0)), Optional.empty()).size());
    }
}
