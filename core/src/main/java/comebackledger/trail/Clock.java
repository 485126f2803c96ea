package comebackledger.trail;

import comebackledger.measure.MeterLine;
import comebackledger.measure.MeterReading;
import comebackledger.policy.Window;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * How windows end for the eyes of an instant: by days, exactly at the limit still inside and in whole seconds, or by a meter read at a visit.
 */
public final class Clock {
    private static final long MILLIS_PER_DAY = 86_400_000L;

    private Clock() {}

    /** The last instant inside a number of days from an instant. */
    public static Instant limit(Instant from, double days) {
        return from.plus(Duration.ofMillis(Math.round(days * MILLIS_PER_DAY)));
    }

    /** The first whole second at which a limit is passed. */
    public static Instant passedFrom(Instant limit) {
        return limit.plusSeconds(1);
    }

    public static boolean passed(Instant limit, Instant at) {
        return !at.isBefore(passedFrom(limit));
    }

    /** The last instant inside a window that started with a visit's release, as far as it is known; a meter ends it just before the visit that read it. */
    static Instant end(UnitState state, UnitMeters meters, String visit, Instant from, Window window) {
        Instant byDays = limit(from, window.days());
        Optional<Instant> byKm = exceeded(state.odometer(), meters.km(), visit, from, window.km());
        Optional<Instant> byHours = exceeded(state.engineHours(), meters.engineHours(), visit, from, window.engineHours());
        return earliest(earliest(byDays, byKm), byHours);
    }

    private static Optional<Instant> exceeded(List<MeterReading> readings, MeterLine line, String visit,
            Instant from, double limit) {
        return readings.reversed().stream().takeWhile(reading -> reading.at().isAfter(from))
                .filter(reading -> line.between(visit, reading.visit()).orElse(0) > limit)
                .map(reading -> reading.at().minusSeconds(1)).reduce((_, earlier) -> earlier);
    }

    private static Instant earliest(Instant one, Optional<Instant> other) {
        return other.isPresent() && other.get().isBefore(one) ? other.get() : one;
    }
}
