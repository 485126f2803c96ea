package comebackledger.openapi;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import comebackledger.visit.Place;
import comebackledger.visit.Stage;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.SortedMap;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

/** Derived rows come back as they were, from the same bytes; the records of the fold are tried in WholeWayTest. */
class LedgerCodecTest {
    private static final LedgerCodec CODEC = new LedgerCodec();

    record Inner(Place place, OptionalDouble km, OptionalInt count) {}

    record Row(Instant at, Optional<Instant> until, Stage stage, List<Inner> inner, SortedMap<String, Double> weights, Optional<String> text,
            double number, boolean closed) {
        /** A derived answer is no content. */
        public boolean isOpen() {
            return !closed;
        }
    }

    private static Row row(Instant at, double number) {
        return new Row(at, Optional.of(at.plusNanos(1)), Stage.AS_LEFT,
                List.of(new Inner(Place.of("network.j1939-1", "brakes"), OptionalDouble.of(number), OptionalInt.empty()),
                        new Inner(Place.SUPPLY, OptionalDouble.empty(), OptionalInt.of(0))),
                new TreeMap<>(Map.of("b", 1.0, "a", number)), Optional.of("é 🚛 \u0000"), number, true);
    }

    /** The ends of what evidence may span, to the nanosecond; doubles to the bit. */
    @Test
    void row_comesBackAsItWas() {
        for (String at : List.of("1900-01-01T00:00:00Z", "1969-12-31T23:59:59.999999999Z", "2026-03-01T08:00:00.123456789Z",
                "2199-12-31T23:59:59.999999998Z")) {
            for (double number : new double[]{0, -0.0, 0.1, Math.PI, Double.MIN_VALUE, Double.MAX_VALUE, 1e15 + 0.3}) {
                Row row = row(Instant.parse(at), number);

                byte[] bytes = CODEC.encode(row);

                assertEquals(row, CODEC.decode(bytes, Row.class));
                assertArrayEquals(bytes, CODEC.encode(row(Instant.parse(at), number)));
            }
        }
    }

    @Test
    void row_withNothingKnown_comesBackAsItWas() {
        Row row = new Row(Instant.EPOCH, Optional.empty(), Stage.AS_FOUND, List.of(), new TreeMap<>(), Optional.empty(), 1, false);

        assertEquals(row, CODEC.decode(CODEC.encode(row), Row.class));
    }

    /** A cut row is never taken for a whole one. */
    @Test
    void decode_whenTheBytesAreCut_fails() {
        byte[] bytes = CODEC.encode(row(Instant.EPOCH, 1));
        for (int length = 0; length < bytes.length; length++) {
            byte[] cut = Arrays.copyOf(bytes, length);

            assertThrows(UncheckedIOException.class, () -> CODEC.decode(cut, Row.class));
        }
    }
}
