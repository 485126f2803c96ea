package comebackledger.baseline;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

/** Expectations worked by hand from the project's own rule of exposure. */
class ExposureTest {
    private static final Instant START = Instant.parse("2025-01-01T00:00:00Z");

    private static Instant day(double days) {
        return START.plusSeconds(Math.round(days * 86_400));
    }

    private static UnitSummary unit(Optional<Instant> retiredAt, UnitSummary.Metered... visits) {
        return new UnitSummary("T-1", Optional.of("linehaul"), new TreeMap<>(), Optional.of(START), retiredAt, Optional.of(day(100)),
                Optional.of(day(200)), List.of(visits), List.of(), List.of());
    }

    private static UnitSummary.Metered km(double day, double km, int piece) {
        return new UnitSummary.Metered(day(day), OptionalDouble.of(km), piece, OptionalDouble.empty(), -1);
    }

    @Test
    void exposure_afterTheLastReading_runsOnAtOwnUsage() {
        Exposure exposure = Exposure.of(unit(Optional.empty(), km(100, 1000, 0), km(200, 41_000, 0)), day(210), Usage.UNKNOWN);

        assertEquals(210, exposure.days(), 1e-9);
        assertEquals(40_000 + 10 * 400, exposure.km().orElseThrow(), 1e-6);
        assertTrue(exposure.estimated());
        assertEquals(OptionalDouble.empty(), exposure.engineHours());
    }

    @Test
    void exposure_atTheLastReading_isNotEstimated() {
        Exposure exposure = Exposure.of(unit(Optional.empty(), km(100, 1000, 0), km(200, 41_000, 0)), day(200), Usage.UNKNOWN);

        assertEquals(40_000, exposure.km().orElseThrow(), 1e-6);
        assertFalse(exposure.estimated());
    }

    @Test
    void exposure_withOneReading_runsOnAtThePeersUsage() {
        Exposure exposure = Exposure.of(unit(Optional.empty(), km(200, 41_000, 0)), day(210),
                new Usage(OptionalDouble.of(300), OptionalDouble.empty()));

        assertEquals(3000, exposure.km().orElseThrow(), 1e-6);
        assertTrue(exposure.estimated());
    }

    @Test
    void exposure_acrossAReplacedMeter_countsTheGapAtUsage() {
        Exposure exposure = Exposure.of(unit(Optional.empty(), km(0, 0, 0), km(100, 40_000, 0), km(110, 5, 1), km(210, 20_005, 1)), day(210),
                Usage.UNKNOWN);

        assertEquals(40_000 + 20_000 + 10 * 200, exposure.km().orElseThrow(), 1e-6);
        assertTrue(exposure.estimated());
    }

    @Test
    void exposure_afterRetirement_standsStill() {
        Exposure exposure = Exposure.of(unit(Optional.of(day(205)), km(100, 1000, 0), km(200, 41_000, 0)), day(400), Usage.UNKNOWN);

        assertEquals(205, exposure.days(), 1e-9);
        assertEquals(42_000, exposure.km().orElseThrow(), 1e-6);
    }

    @Test
    void exposure_atAPastInstant_ignoresLaterReadings() {
        Exposure exposure = Exposure.of(unit(Optional.empty(), km(100, 1000, 0), km(150, 11_000, 0), km(200, 41_000, 0)), day(150), Usage.UNKNOWN);

        assertEquals(10_000, exposure.km().orElseThrow(), 1e-6);
    }

    @Test
    void usage_ofPeers_isTheMedianOfTheKnown() {
        Usage median = Usage.median(List.of(new Usage(OptionalDouble.of(100), OptionalDouble.empty()), Usage.UNKNOWN,
                new Usage(OptionalDouble.of(300), OptionalDouble.of(8))));

        assertEquals(200, median.kmPerDay().orElseThrow(), 1e-9);
        assertEquals(8, median.hoursPerDay().orElseThrow(), 1e-9);
    }
}
