package comebackledger.openapi.row;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import comebackledger.judge.VisitFacts;
import comebackledger.measure.Measured;
import comebackledger.measure.MeterReading;
import comebackledger.openapi.LedgerCodec;
import comebackledger.trail.History;
import comebackledger.trail.MetersRead;
import comebackledger.trail.SeriesPoint;
import comebackledger.trail.UnitState;
import java.io.UncheckedIOException;
import java.lang.reflect.ParameterizedType;
import java.lang.reflect.RecordComponent;
import java.lang.reflect.Type;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Facts and states of any content come back as they were, and nothing that is damaged is read. */
class DerivedRowsTest {
    private static final LedgerCodec CODEC = new LedgerCodec();
    private static final long SEED = 20261130;
    private static final List<String> TEXTS = List.of("", "a", "WO-1001", "WO-1002", "WO-1001-b", "network.j1939-1.brakes", "rétorquer",
            "\ud83d\ude9b", "\ud83d\ude9c",
            "\u0000~\u0080", "x".repeat(200));
    private static final double[] NUMBERS = {0, -0.0, 1, -1, 60.1, -0.07, 0.1 + 0.2, Math.PI, 351_428, 1e15, 0x1p53, 9.007e13, -1e300,
            Double.MIN_VALUE,
            Double.MAX_VALUE, Double.POSITIVE_INFINITY, Double.NaN};
    /** To the nanosecond, at the ends of what evidence may span and beside each other. */
    private static final List<Instant> TIMES = List.of(Instant.parse("1900-01-01T00:00:00Z"), Instant.parse("1969-12-31T23:59:59.999999999Z"),
            Instant.parse("2026-03-01T08:00:00Z"), Instant.parse("2026-03-03T08:00:00Z"), Instant.parse("2199-12-31T23:59:59.999999998Z"));

    @ParameterizedTest
    @ValueSource(classes = {VisitFacts.class, UnitState.class})
    void row_ofAnyContent_comesBackAsItWas(Class<?> type) throws ReflectiveOperationException {
        for (int i = 0; i < 1500; i++) {
            Object row = any(type, new SplittableRandom(SEED + i));

            byte[] bytes = CODEC.encode(row);

            assertEquals(row, CODEC.decode(bytes, type));
            assertArrayEquals(bytes, CODEC.encode(any(type, new SplittableRandom(SEED + i))));
        }
    }

    /** Also where it was sealed as a row of the other type. */
    @ParameterizedTest
    @ValueSource(classes = {VisitFacts.class, UnitState.class})
    void decode_whenDamaged_fails(Class<?> type) throws ReflectiveOperationException {
        byte[] bytes = CODEC.encode(any(type, new SplittableRandom(SEED)));
        Class<?> other = type == VisitFacts.class ? UnitState.class : VisitFacts.class;

        for (int i = 0; i < bytes.length; i++) {
            byte[] cut = Arrays.copyOf(bytes, i);
            byte[] changed = bytes.clone();
            changed[i] ^= (byte) (1 << i % 8);
            assertThrows(UncheckedIOException.class, () -> CODEC.decode(cut, type));
            assertThrows(UncheckedIOException.class, () -> CODEC.decode(changed, type));
        }
        assertThrows(UncheckedIOException.class, () -> CODEC.decode(bytes, other));
        assertThrows(UncheckedIOException.class, () -> CODEC.decode(Arrays.copyOf(bytes, bytes.length + 1), type));
    }

    /** What another writer sealed, and what was sealed wrong, is not read either. */
    @ParameterizedTest
    @ValueSource(classes = {VisitFacts.class, UnitState.class})
    void decode_whenSealedWithOtherContent_fails(Class<?> type) {
        int form = CODEC.encode(type == VisitFacts.class ? anyOf(VisitFacts.class) : UnitState.EMPTY)[0];
        SplittableRandom random = new SplittableRandom(SEED);
        int read = 0;
        for (int i = 0; i < 3000; i++) {
            RowOut out = new RowOut(form);
            for (int k = random.nextInt(60); k >= 0; k--) {
                out.count(random.nextBoolean() ? random.nextInt(4) : random.nextLong());
            }
            byte[] bytes = out.sealed();
            try {
                CODEC.decode(bytes, type);
                read++;
            } catch (UncheckedIOException _) {
                // As it should.
            }
        }
        assertEquals(0, read);
    }

    /** A state that was read, grew and was written, time and again, is to the byte the one that grew at once; its settled part is never looked into. */
    @Test
    void state_thatGrowsFromRowToRow_hasTheBytesOfOneThatGrewAtOnce() throws ReflectiveOperationException {
        SplittableRandom random = new SplittableRandom(SEED);
        UnitState state = UnitState.EMPTY;
        List<MetersRead> meters = new ArrayList<>();
        List<SeriesPoint> series = new ArrayList<>();
        while (meters.size() < 150) {
            List<MetersRead> read = new ArrayList<>();
            List<SeriesPoint> measured = new ArrayList<>();
            for (int k = random.nextInt(40); k >= 0; k--) {
                read.add((MetersRead) any(MetersRead.class, random));
                measured.add((SeriesPoint) any(SeriesPoint.class, random));
            }
            meters.addAll(read);
            series.addAll(measured);

            byte[] row = CODEC.encode(with(state, longer(state.meters(), read), longer(state.series(), measured)));

            assertArrayEquals(CODEC.encode(with(state, History.of(meters), History.of(series))), row);
            state = CODEC.decode(row, UnitState.class);
            if (random.nextBoolean()) {
                assertEquals(meters, state.meters());
                assertEquals(series, state.series());
            }
        }
    }

    private static <E> History<E> longer(History<E> before, List<E> more) {
        List<E> newest = new ArrayList<>(before.newest());
        newest.addAll(more);
        return new History<>(before.settled(), newest);
    }

    private static UnitState with(UnitState state, History<MetersRead> meters, History<SeriesPoint> series) {
        return new UnitState(state.visits(), state.firstVisitAt(), state.lastVisit(), meters, state.codes(), state.trails(), state.silences(),
                state.findings(), state.loss(), state.lamps(), state.duty(), state.repairsDone(), series);
    }

    private static Object anyOf(Class<?> type) {
        try {
            return any(type, new SplittableRandom(SEED));
        } catch (ReflectiveOperationException e) {
            throw new AssertionError(e);
        }
    }

    private static Object any(Type type, SplittableRandom random) throws ReflectiveOperationException {
        if (type instanceof ParameterizedType generic) {
            return any((Class<?>) generic.getRawType(), generic.getActualTypeArguments(), random);
        }
        Class<?> plain = (Class<?>) type;
        if (plain == String.class) {
            return TEXTS.get(random.nextInt(TEXTS.size()));
        } else if (plain == Instant.class) {
            return TIMES.get(random.nextInt(TIMES.size()));
        } else if (plain == boolean.class || plain == Boolean.class) {
            return random.nextBoolean();
        } else if (plain == int.class || plain == Integer.class) {
            return random.nextInt(4) == 0 ? random.nextInt() : random.nextInt(-1, 300);
        } else if (plain == double.class || plain == Double.class) {
            return NUMBERS[random.nextInt(NUMBERS.length)];
        } else if (plain == OptionalDouble.class) {
            return random.nextBoolean() ? OptionalDouble.empty() : OptionalDouble.of((double) any(double.class, random));
        } else if (plain == OptionalInt.class) {
            return random.nextBoolean() ? OptionalInt.empty() : OptionalInt.of((int) any(int.class, random));
        } else if (plain.isEnum()) {
            return plain.getEnumConstants()[random.nextInt(plain.getEnumConstants().length)];
        } else if (plain == MetersRead.class) {
            MeterReading odometer = (MeterReading) any(MeterReading.class, random);
            return new MetersRead(odometer, new MeterReading(odometer.visit(), odometer.at(), (OptionalDouble) any(OptionalDouble.class, random),
                    random.nextBoolean(), (OptionalDouble) any(OptionalDouble.class, random)));
        } else if (plain == Measured.class) {
            return new Measured(random.nextDouble(-5, 5), random.nextInt(3) / 100.0);
        }
        RecordComponent[] components = plain.getRecordComponents();
        Object[] values = new Object[components.length];
        Class<?>[] types = new Class<?>[components.length];
        for (int i = 0; i < components.length; i++) {
            values[i] = any(components[i].getGenericType(), random);
            types[i] = components[i].getType();
        }
        return plain.getDeclaredConstructor(types).newInstance(values);
    }

    private static Object any(Class<?> raw, Type[] of, SplittableRandom random) throws ReflectiveOperationException {
        if (raw == Optional.class) {
            return random.nextBoolean() ? Optional.empty() : Optional.of(any(of[0], random));
        }
        if (raw == SortedMap.class) {
            SortedMap<String, Object> map = new TreeMap<>();
            for (int i = random.nextInt(4); i > 0; i--) {
                map.put((String) any(of[0], random), any(of[1], random));
            }
            return map;
        }
        List<Object> list = new ArrayList<>();
        for (int i = random.nextInt(raw == History.class && random.nextInt(4) == 0 ? 100 : 5); i > 0; i--) {
            list.add(any(of[0], random));
        }
        if (raw == History.class) {
            return History.of(list);
        }
        return raw == List.class ? list : raw == SortedSet.class ? new TreeSet<>(list) : new LinkedHashSet<>(list);
    }
}
