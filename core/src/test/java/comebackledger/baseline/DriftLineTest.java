package comebackledger.baseline;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;

class DriftLineTest {
    private static final Instant LAST = Instant.parse("2026-03-01T08:00:00Z");

    /** Four readings to 100 000 km, the crossing at 101 000 km with a spread of 500 km: two degrees of freedom. */
    private static final DriftLine FOUR = new DriftLine("network.j1939-1", Wear.KM, 100_000, LAST, 61.9, 101_000, 500, 2, 300, List.of("A"));

    /** Student's t with two degrees of freedom has a closed form: P(T > z) = 1/2 - z / (2 sqrt(2 + z^2)). */
    private static double beyond(double z) {
        return 0.5 - z / (2 * Math.sqrt(2 + z * z));
    }

    @Test
    void chance_isStudentsGivenThatTheLimitIsNotYetMet() {
        assertEquals(1 - beyond(0) / beyond(-2), FOUR.chanceWithin(1000, LAST), 1e-9);
        assertEquals(1 - beyond(-0.8) / beyond(-1.4), FOUR.chanceWithin(300, LAST.plusSeconds(86_400)), 1e-9);
    }

    /** Ten spreads past the crossing and no fault yet: the line told little, and a short trip is not certain to end in one (normal: above 0.9999). */
    @Test
    void chance_longPastTheCrossing_isNotCertain() {
        assertEquals(1 - beyond(11) / beyond(10), FOUR.chanceWithin(500, LAST.plusSeconds(20 * 86_400)), 1e-9);
        assertEquals(0.17, FOUR.chanceWithin(500, LAST.plusSeconds(20 * 86_400)), 0.005);
    }
}
