package comebackledger.openapi.row;

import comebackledger.visit.Place;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Arrays;
import java.util.Collection;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import java.util.zip.CRC32C;

/**
 * Writes a derived row by position, without names: what {@link RowIn} reads back. A number that is whole or has two decimals, as meters show, a time after
 * the one before and a visit beside the one before take few bytes. The last four bytes are the checksum of the others.
 */
final class RowOut {
    static final int WHOLE = 0;
    static final int BITS = 1;
    static final int HUNDREDTHS = 2;
    /** Doubles count every whole number up to here. */
    private static final double LARGEST_WHOLE = 1L << 53;

    private static final int LONGEST_COUNT = 10;

    private byte[] bytes = new byte[512];
    private int length;
    private String lastVisit = "";
    private String lastSystem = "";
    private long lastSecond;

    /** @param form the number of the row's layout */
    RowOut(int form) {
        bytes[length++] = (byte) form;
    }

    /** A part of a row, without a form of its own and a checksum. */
    RowOut() {}

    private void room(int more) {
        if (length + more > bytes.length) {
            bytes = Arrays.copyOf(bytes, Math.max(2 * bytes.length, length + more));
        }
    }

    /** 0 or more: seven bits a byte, the lowest first. */
    void count(long value) {
        room(LONGEST_COUNT);
        byte[] to = bytes;
        int next = length;
        long rest = value;
        while ((rest & ~0x7fL) != 0) {
            to[next++] = (byte) (rest | 0x80);
            rest >>>= 7;
        }
        to[next] = (byte) rest;
        length = next + 1;
    }

    /** Small either way. */
    void whole(long value) {
        count(value << 1 ^ value >> 63);
    }

    /** As the others, for what is written hundreds of times a row. */
    void flags(boolean first, boolean second, boolean third) {
        count((first ? 1 : 0) | (second ? 2 : 0) | (third ? 4 : 0));
    }

    /** Up to seven in a byte. */
    void flags(boolean... flags) {
        int all = 0;
        for (int i = 0; i < flags.length; i++) {
            all |= flags[i] ? 1 << i : 0;
        }
        count(all);
    }

    /** What was said yes or no to, or nothing at all. */
    @SafeVarargs
    final void flags(Optional<Boolean>... said) {
        int all = 0;
        for (int i = 0; i < said.length; i++) {
            all |= said[i].isEmpty() ? 0 : said[i].get() ? 2 << 2 * i : 1 << 2 * i;
        }
        count(all);
    }

    void word(Enum<?> word) {
        count(word.ordinal());
    }

    /** To the bit. */
    void number(double value) {
        if (Math.abs(value) < LARGEST_WHOLE / 100) {
            long whole = (long) value;
            if (isExactly(value, whole)) {
                count((whole << 1 ^ whole >> 63) << 2 | WHOLE);
                return;
            }
            long hundredths = Math.round(100 * value);
            if (isExactly(value, hundredths / 100.0)) {
                count((hundredths << 1 ^ hundredths >> 63) << 2 | HUNDREDTHS);
                return;
            }
        }
        count(BITS);
        room(Double.BYTES);
        long bits = Double.doubleToRawLongBits(value);
        for (int shift = 0; shift < Long.SIZE; shift += Byte.SIZE) {
            bytes[length++] = (byte) (bits >>> shift);
        }
    }

    private static boolean isExactly(double value, double other) {
        return Double.doubleToRawLongBits(value) == Double.doubleToRawLongBits(other);
    }

    /** After a flag that tells whether it is there, as all that is optional. */
    void number(OptionalDouble value) {
        if (value.isPresent()) {
            number(value.getAsDouble());
        }
    }

    /** From the time written before. */
    void time(Instant value) {
        long passed = value.getEpochSecond() - lastSecond;
        lastSecond = value.getEpochSecond();
        int nano = value.getNano();
        count((passed << 1 ^ passed >> 63) << 1 | (nano == 0 ? 0 : 1));
        if (nano != 0) {
            count(nano);
        }
    }

    void time(Optional<Instant> value) {
        value.ifPresent(this::time);
    }

    void text(String value) {
        text(value, 0);
    }

    void text(Optional<String> value) {
        value.ifPresent(this::text);
    }

    private void text(String value, int from) {
        int size = value.length() - from;
        count((long) size << 1);
        room(size);
        int start = length;
        for (int i = from; i < value.length(); i++) {
            char c = value.charAt(i);
            if (c >= 0x80) {
                length = start - width(size);
                wide(value.substring(from));
                return;
            }
            bytes[length++] = (byte) c;
        }
    }

    private static int width(int size) {
        return Math.max(1, (Long.SIZE - Long.numberOfLeadingZeros((long) size << 1) + 6) / 7);
    }

    private void wide(String value) {
        byte[] utf8 = value.getBytes(StandardCharsets.UTF_8);
        count((long) utf8.length << 1 | 1);
        room(utf8.length);
        System.arraycopy(utf8, 0, bytes, length, utf8.length);
        length += utf8.length;
    }

    /** The identifier of a visit: those of a unit mostly begin alike. */
    void visit(String value) {
        lastVisit = beside(lastVisit, value);
    }

    /** Those of a unit are few, and mostly the one before. */
    void system(String value) {
        lastSystem = beside(lastSystem, value);
    }

    /** As much as both begin with is only counted. @return the value, for the next one */
    String beside(String before, String value) {
        int most = Math.min(before.length(), value.length());
        int alike = 0;
        while (alike < most && before.charAt(alike) == value.charAt(alike)) {
            alike++;
        }
        if (alike > 0 && Character.isHighSurrogate(value.charAt(alike - 1))) {
            alike--;
        }
        count(alike);
        text(value, alike);
        return value;
    }

    void place(Place place) {
        flags(place.part().isPresent());
        text(place.system());
        text(place.part());
    }

    void texts(Collection<String> values) {
        list(values, this::text);
    }

    <T> void list(Collection<T> entries, Consumer<T> entry) {
        count(entries.size());
        entries.forEach(entry);
    }

    <V> void map(Map<String, V> entries, Consumer<V> value) {
        count(entries.size());
        entries.forEach((key, entry) -> {
            text(key);
            value.accept(entry);
        });
    }

    /** What follows can be read without what came before. */
    void besideNothing() {
        lastVisit = "";
        lastSystem = "";
        lastSecond = 0;
    }

    /** A part of a row as it was written. */
    void bytes(byte[] part) {
        room(part.length);
        System.arraycopy(part, 0, bytes, length, part.length);
        length += part.length;
    }

    /** All of a part. */
    byte[] bytes() {
        return Arrays.copyOf(bytes, length);
    }

    /** The row with its checksum. */
    byte[] sealed() {
        CRC32C sum = new CRC32C();
        sum.update(bytes, 0, length);
        byte[] row = Arrays.copyOf(bytes, length + Integer.BYTES);
        int value = (int) sum.getValue();
        for (int i = 0; i < Integer.BYTES; i++) {
            row[length + i] = (byte) (value >>> i * Byte.SIZE);
        }
        return row;
    }
}
