package comebackledger.measure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** The line's short ways tell what its plain way does. */
class MeterLineTest {
    private static final long SEED = 20261130;
    private static final double MOST_PER_DAY = 2500;
    private static final Instant START = Instant.parse("2024-01-01T00:00:00Z");

    /** Growing readings, among them replaced meters, meters not read, and some that contradict the others; several may share an instant. */
    private static List<MeterReading> readings(SplittableRandom random, int count, boolean contradicted) {
        List<MeterReading> readings = new ArrayList<>();
        double shown = random.nextInt(100_000);
        Instant at = START;
        for (int i = 0; i < count; i++) {
            at = at.plusSeconds(random.nextInt(4) == 0 ? 0 : random.nextInt(2 * 86_400));
            shown += random.nextInt(400);
            boolean replaced = random.nextInt(8) == 0;
            OptionalDouble previous = replaced && random.nextBoolean() ? OptionalDouble.of(shown) : OptionalDouble.empty();
            shown = replaced ? random.nextInt(1000) : shown;
            double told = contradicted && random.nextInt(6) == 0 ? random.nextInt(200_000) : shown;
            boolean silent = replaced && random.nextInt(4) == 0;
            readings.add(new MeterReading("V-" + i, at, silent ? OptionalDouble.empty() : OptionalDouble.of(told), replaced, previous));
        }
        return readings;
    }

    @Test
    void walk_tellsWhatTheLineTells() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int round = 0; round < 500; round++) {
            List<MeterReading> readings = readings(random, random.nextInt(60), true);
            MeterLine line = new MeterLine(readings, MOST_PER_DAY);
            MeterLine.Walk walk = line.walk();

            for (MeterReading reading : readings) {
                walk.to(reading.at(), reading.visit());
                assertEquals(line.at(reading.visit()), walk.total());
                assertEquals(line.piece(reading.visit()), walk.piece());
            }
        }
    }

    /** A line of more readings than are looked through answers of its first as the line of those alone, where nothing contradicts them. */
    @Test
    void line_whenLong_tellsOfItsBeginningWhatAShortOneTells() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int round = 0; round < 200; round++) {
            List<MeterReading> readings = readings(random, 60, false);
            MeterLine whole = new MeterLine(readings, MOST_PER_DAY);
            MeterLine beginning = new MeterLine(readings.subList(0, 12), MOST_PER_DAY);

            for (int i = 0; i < 12; i++) {
                assertEquals(beginning.at("V-" + i), whole.at("V-" + i));
                for (int k = 0; k < 12; k++) {
                    assertEquals(beginning.between("V-" + i, "V-" + k), whole.between("V-" + i, "V-" + k));
                }
            }
        }
    }

    /** Against every subset of at most ten readings: as many as can agree are kept. */
    @Test
    void leftOut_isTheFewestThatMakeTheRestAgree() {
        SplittableRandom random = new SplittableRandom(SEED);
        int contradicted = 0;
        for (int round = 0; round < 300; round++) {
            List<MeterReading> readings = new ArrayList<>();
            for (int i = 0; i < 1 + random.nextInt(10); i++) {
                readings.add(new MeterReading("V-" + i, START.plusSeconds(86_400L * i), OptionalDouble.of(random.nextInt(12) * 1000), false,
                        OptionalDouble.empty()));
            }

            int leftOut = new MeterLine(readings, MOST_PER_DAY).leftOut().size();

            assertEquals(readings.size() - longest(readings), leftOut, readings.toString());
            contradicted += leftOut > 0 ? 1 : 0;
        }
        assertTrue(contradicted > 100, "too few contradicted themselves: " + contradicted);
    }

    private static int longest(List<MeterReading> readings) {
        int longest = 0;
        for (int subset = 0; subset < 1 << readings.size(); subset++) {
            double last = 0;
            int lastDay = -1;
            boolean agree = true;
            for (int i = 0; agree && i < readings.size(); i++) {
                if ((subset >> i & 1) != 0) {
                    double shown = readings.get(i).shown().orElseThrow();
                    agree = lastDay < 0 || shown >= last && shown - last <= MOST_PER_DAY * (i - lastDay);
                    last = shown;
                    lastDay = i;
                }
            }
            longest = agree ? Math.max(longest, Integer.bitCount(subset)) : longest;
        }
        return longest;
    }
}
