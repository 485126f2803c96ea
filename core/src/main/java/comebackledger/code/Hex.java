package comebackledger.code;

import java.util.Arrays;
import java.util.Optional;

/** Hexadecimal text read into bytes; what cannot be read is a fault at a byte, never an exception. */
final class Hex {
    private final byte[] bytes;
    private final Optional<Why> fault;
    private final int at;

    private Hex(byte[] bytes, Optional<Why> fault, int at) {
        this.bytes = bytes;
        this.fault = fault;
        this.at = at;
    }

    /** @param separators characters that count for nothing */
    static Hex read(String text, String separators) {
        byte[] bytes = new byte[text.length() / 2];
        int digits = 0;
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            if (separators.indexOf(c) >= 0) {
                continue;
            }
            int value = value(c);
            if (value < 0) {
                return new Hex(new byte[0], Optional.of(Why.NOT_HEX), digits / 2);
            }
            if (digits / 2 < bytes.length) {
                bytes[digits / 2] = (byte) (bytes[digits / 2] << 4 | value);
            }
            digits++;
        }
        if (digits % 2 != 0) {
            return new Hex(new byte[0], Optional.of(Why.ODD_HEX), digits / 2);
        }
        return new Hex(Arrays.copyOf(bytes, digits / 2), Optional.empty(), 0);
    }

    byte[] bytes() {
        return bytes;
    }

    Optional<Why> fault() {
        return fault;
    }

    /** The byte at which the text stops being readable. */
    int at() {
        return at;
    }

    static String detail(Why why) {
        return why == Why.ODD_HEX
                ? "The number of hexadecimal digits is odd; each byte needs two."
                : "A character is not a hexadecimal digit; allowed are 0 to 9 and A to F.";
    }

    /** Whether the characters from {@code from} to before {@code to} are all ASCII hexadecimal digits; true where there are none. */
    static boolean isHex(String text, int from, int to) {
        for (int i = from; i < to; i++) {
            if (value(text.charAt(i)) < 0) {
                return false;
            }
        }
        return true;
    }

    private static int value(char c) {
        return c < 128 ? Character.digit(c, 16) : -1;
    }
}
