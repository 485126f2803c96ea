package comebackledger.openapi.row;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import comebackledger.measure.MeterEnd;
import comebackledger.trail.Totals;
import comebackledger.trail.UnitSummary;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** What is written is read again, whatever it is; what was not written so is refused. */
class SummaryRowTest {
    private static final long SEED = 20_261_130;
    private static final double[] NUMBERS = {0, -0.0, 1, -1, 0.1, 412_300, 256_123.4567, 1e15, 2.3e15, -7e18, 1e300, Double.MIN_VALUE};
    private static final String[] TEXTS = {"", "network.j1939-1", "network.j1939-1.brakes", "WO-1", "WO-2", "ausgebaut, neu gesteckt",
            "\u20ac\ud83d\ude9a", "x"};
    private static final Instant[] INSTANTS = {Instant.parse("2026-03-01T08:00:00Z"), Instant.parse("2026-03-01T08:00:01Z"), Instant.EPOCH,
            Instant.parse("1969-12-31T23:59:59.999999999Z"), Instant.parse("2200-01-01T00:00:00Z"), Instant.parse("1900-01-01T00:00:00.000000001Z")};

    private final SplittableRandom random = new SplittableRandom(SEED);

    private OptionalDouble number() {
        return random.nextInt(4) == 0 ? OptionalDouble.empty() : OptionalDouble.of(NUMBERS[random.nextInt(NUMBERS.length)]);
    }

    private String text() {
        return TEXTS[random.nextInt(TEXTS.length)];
    }

    private Instant at() {
        return INSTANTS[random.nextInt(INSTANTS.length)];
    }

    private <T> Optional<T> maybe(T value) {
        return random.nextBoolean() ? Optional.of(value) : Optional.empty();
    }

    private UnitSummary row() {
        List<UnitSummary.Metered> visits = new ArrayList<>();
        for (int i = random.nextInt(5); i > 0; i--) {
            visits.add(new UnitSummary.Metered(at(), number(), random.nextInt(3) - 1, number(), random.nextInt(3) - 1));
        }
        List<UnitSummary.Opened> episodes = new ArrayList<>();
        for (int i = random.nextInt(4); i > 0; i--) {
            episodes.add(new UnitSummary.Opened(text(), text(), text(), at(), maybe(at()), random.nextBoolean(), random.nextBoolean(),
                    random.nextBoolean(), random.nextBoolean(), number(), number()));
        }
        List<UnitSummary.Mended> repairs = new ArrayList<>();
        for (int i = random.nextInt(4); i > 0; i--) {
            repairs.add(new UnitSummary.Mended(text(), text(), text(), at(), text(), maybe(text()), random.nextBoolean(), number(), number(),
                    maybe(at()), number(), number(), maybe(at()), number(), number()));
        }
        TreeMap<String, String> tags = new TreeMap<>();
        for (int i = random.nextInt(3); i > 0; i--) {
            tags.put(text(), text());
        }
        UnitSummary row = new UnitSummary(text(), maybe(text()), tags, maybe(at()), maybe(at()), maybe(at()), maybe(at()), visits, episodes, repairs);
        return new UnitSummary(row.unit(), row.group(), row.tags(), row.inServiceAt(), row.retiredAt(), row.firstVisitAt(), row.lastVisitAt(),
                row.meteredVisits(), ending(row.km()), ending(row.engineHours()), episodes, repairs);
    }

    /** At its newest total, as most do, or anywhere. */
    private Totals ending(Totals totals) {
        Optional<MeterEnd> end = maybe(new MeterEnd(random.nextInt(3) - 1, number().orElse(0), number().orElse(0), at()));
        if (random.nextBoolean() && !totals.isEmpty()) {
            int last = totals.last();
            end = Optional.of(new MeterEnd(totals.piece(last), 0, totals.total(last), totals.at(last)));
        }
        return new Totals(IntStream.range(0, totals.size()).mapToLong(i -> Totals.nanos(totals.at(i))).toArray(),
                IntStream.range(0, totals.size()).mapToDouble(totals::total).toArray(),
                IntStream.range(0, totals.size()).map(totals::piece).toArray(), end);
    }

    @Test
    void row_isReadAsItWasWritten() {
        for (int i = 0; i < 5_000; i++) {
            UnitSummary row = row();
            byte[] bytes = SummaryRow.bytes(row);
            UnitSummary read = SummaryRow.read(bytes);
            assertEquals(row, read);
            assertArrayEquals(bytes, SummaryRow.bytes(read), "negative zero and every digit as they were");
        }
    }

    @Test
    void row_cutShortOrRunningOn_isRefused() {
        for (int i = 0; i < 200; i++) {
            byte[] bytes = SummaryRow.bytes(row());
            for (int length = 0; length < bytes.length; length++) {
                byte[] cut = Arrays.copyOf(bytes, length);
                assertThrows(UncheckedIOException.class, () -> SummaryRow.read(cut));
            }
            assertThrows(UncheckedIOException.class, () -> SummaryRow.read(Arrays.copyOf(bytes, bytes.length + 1)));
        }
    }

    @Test
    void row_damaged_isRefused() {
        for (int i = 0; i < 20_000; i++) {
            byte[] bytes = SummaryRow.bytes(row());
            bytes[random.nextInt(bytes.length)] ^= (byte) (1 << random.nextInt(8));
            assertThrows(UncheckedIOException.class, () -> SummaryRow.read(bytes));
        }
    }
}
