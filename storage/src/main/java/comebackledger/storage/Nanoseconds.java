package comebackledger.storage;

import java.time.Instant;

import comebackledger.Require;

/** An instant as its nanosecond since 1970: exact, and sortable alike in Java and in both engines. */
final class Nanoseconds {
    private static final long PER_SECOND = 1_000_000_000;
    /** From September 1677 to April 2262, more than evidence may span. */
    private static final long MOST_SECONDS = Long.MAX_VALUE / PER_SECOND;

    private Nanoseconds() {}

    /** @throws IllegalArgumentException if the column cannot hold it */
    static long of(Instant instant) {
        Require.that(Math.abs(instant.getEpochSecond()) < MOST_SECONDS, "an instant that is kept must lie between 1678 and 2261, was %s", instant);
        return instant.getEpochSecond() * PER_SECOND + instant.getNano();
    }

    /** For a comparison with what is kept: an instant beyond all of it stands before or after all of it. */
    static long nearest(Instant instant) {
        if (Math.abs(instant.getEpochSecond()) < MOST_SECONDS) {
            return of(instant);
        }
        return instant.getEpochSecond() < 0 ? Long.MIN_VALUE : Long.MAX_VALUE;
    }

    static Instant instant(long nanoseconds) {
        return Instant.ofEpochSecond(Math.floorDiv(nanoseconds, PER_SECOND), Math.floorMod(nanoseconds, PER_SECOND));
    }
}
