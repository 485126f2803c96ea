package comebackledger.storage;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.time.Instant;

/** An instant as its nanosecond since 1970: exact and sortable over the whole range of {@link Instant}. */
final class Nanoseconds {
    private static final BigInteger PER_SECOND = BigInteger.valueOf(1_000_000_000);

    private Nanoseconds() {}

    static BigDecimal of(Instant instant) {
        return new BigDecimal(BigInteger.valueOf(instant.getEpochSecond()).multiply(PER_SECOND).add(BigInteger.valueOf(instant.getNano())));
    }

    static Instant instant(BigDecimal nanoseconds) {
        BigInteger[] parts = nanoseconds.toBigIntegerExact().divideAndRemainder(PER_SECOND);
        return Instant.ofEpochSecond(parts[0].longValueExact(), parts[1].longValueExact());
    }
}
