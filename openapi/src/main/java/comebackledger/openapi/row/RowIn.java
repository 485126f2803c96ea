package comebackledger.openapi.row;

import comebackledger.visit.Place;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.zip.CRC32C;

/** Reads what {@link RowOut} wrote. */
final class RowIn {
    private final byte[] bytes;
    private final int end;
    private int at;
    private String lastVisit = "";
    private String lastSystem = "";
    private long lastSecond;

    private RowIn(byte[] bytes, int from, int end) {
        this.bytes = bytes;
        this.at = from;
        this.end = end;
    }

    /** @throws UncheckedIOException if the row is damaged, or of another form than this one */
    static <T> T read(byte[] bytes, int form, Function<RowIn, T> fields) {
        RowIn in = new RowIn(bytes, 1, bytes.length - Integer.BYTES);
        if (in.end < 1 || bytes[0] != form || !in.isWhole()) {
            throw unreadable();
        }
        return in.whole(fields);
    }

    /** What {@link RowOut#bytes()} gave, out of a row that was found whole. @throws UncheckedIOException if it is something else */
    static <T> T part(byte[] bytes, Function<RowIn, T> fields) {
        return new RowIn(bytes, 0, bytes.length).whole(fields);
    }

    private <T> T whole(Function<RowIn, T> fields) {
        try {
            T read = fields.apply(this);
            if (at == end) {
                return read;
            }
        } catch (IndexOutOfBoundsException | IllegalArgumentException | DateTimeException | ArithmeticException e) {
            // Sealed by something that was no writer of this form.
        }
        throw unreadable();
    }

    private static UncheckedIOException unreadable() {
        return new UncheckedIOException(new IOException("a derived row is damaged or was made in another form: rebuild makes it again"));
    }

    private boolean isWhole() {
        CRC32C sum = new CRC32C();
        sum.update(bytes, 0, end);
        int value = 0;
        for (int i = 0; i < Integer.BYTES; i++) {
            value |= (bytes[end + i] & 0xff) << i * Byte.SIZE;
        }
        return value == (int) sum.getValue();
    }

    long count() {
        long value = 0;
        int shift = 0;
        byte part;
        do {
            part = bytes[at++];
            value |= (part & 0x7fL) << shift;
            shift += 7;
        } while (part < 0);
        return value;
    }

    /** How many of something follow, each of a byte at least. */
    int size() {
        long size = count();
        if (size < 0 || size > end - at) {
            throw new IndexOutOfBoundsException();
        }
        return (int) size;
    }

    private static long signed(long count) {
        return count >>> 1 ^ -(count & 1);
    }

    long whole() {
        return signed(count());
    }

    int flags() {
        return (int) count();
    }

    boolean has(int flags, int index) {
        return (flags >>> index & 1) != 0;
    }

    Optional<Boolean> said(int flags, int index) {
        return switch (flags >>> 2 * index & 3) {
            case 0 -> Optional.empty();
            case 1 -> Optional.of(false);
            default -> Optional.of(true);
        };
    }

    void besideNothing() {
        lastVisit = "";
        lastSystem = "";
        lastSecond = 0;
    }

    byte[] bytes(int size) {
        at += size;
        return Arrays.copyOfRange(bytes, at - size, at);
    }

    <E> E word(E[] words) {
        return words[(int) count()];
    }

    double number() {
        long coded = count();
        long value = signed(coded >>> 2);
        return switch ((int) coded & 3) {
            case RowOut.WHOLE -> value;
            case RowOut.HUNDREDTHS -> value / 100.0;
            default -> bits();
        };
    }

    private double bits() {
        long bits = 0;
        for (int shift = 0; shift < Long.SIZE; shift += Byte.SIZE) {
            bits |= (bytes[at++] & 0xffL) << shift;
        }
        return Double.longBitsToDouble(bits);
    }

    OptionalDouble number(boolean present) {
        return present ? OptionalDouble.of(number()) : OptionalDouble.empty();
    }

    Instant time() {
        long coded = count();
        lastSecond += signed(coded >>> 1);
        return Instant.ofEpochSecond(lastSecond, (coded & 1) == 0 ? 0 : count());
    }

    Optional<Instant> time(boolean present) {
        return present ? Optional.of(time()) : Optional.empty();
    }

    String text() {
        long coded = count();
        int size = (int) (coded >>> 1);
        if (size < 0 || size > end - at) {
            throw new IndexOutOfBoundsException();
        }
        at += size;
        return new String(bytes, at - size, size, (coded & 1) == 0 ? StandardCharsets.ISO_8859_1 : StandardCharsets.UTF_8);
    }

    Optional<String> text(boolean present) {
        return present ? Optional.of(text()) : Optional.empty();
    }

    String visit() {
        lastVisit = beside(lastVisit);
        return lastVisit;
    }

    String system() {
        lastSystem = beside(lastSystem);
        return lastSystem;
    }

    String beside(String before) {
        int alike = (int) count();
        String rest = text();
        return rest.isEmpty() && alike == before.length() ? before : before.substring(0, alike) + rest;
    }

    Place place() {
        int flags = flags();
        return new Place(text(), text(has(flags, 0)));
    }

    List<String> texts() {
        return list(this::text);
    }

    <T> List<T> list(Supplier<T> entry) {
        int size = size();
        if (size == 0) {
            return List.of();
        }
        List<T> list = new ArrayList<>(size);
        for (int i = 0; i < size; i++) {
            list.add(entry.get());
        }
        return List.copyOf(list);
    }

    <V> SortedMap<String, V> map(Supplier<V> value) {
        SortedMap<String, V> map = new TreeMap<>();
        int size = size();
        for (int i = 0; i < size; i++) {
            String key = text();
            map.put(key, value.get());
        }
        return Collections.unmodifiableSortedMap(map);
    }
}
