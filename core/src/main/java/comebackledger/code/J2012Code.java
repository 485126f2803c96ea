package comebackledger.code;

import comebackledger.Require;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * A code of SAE J2012 / ISO 15031-6, in two bytes or in three.
 * <pre>
 *   bits 15-14  letter: P 00, C 01, B 10, U 11      bits 13-12  second character, 0 to 3
 *   bits 11-0   three hexadecimal characters        third byte  the failure type, ISO 14229 and SAE J2012-DA
 * </pre>
 * Layout from memory of the standard.
 *
 * @param number the two bytes
 * @param failureType the third byte, where there is one
 */
public record J2012Code(int number, OptionalInt failureType) implements TroubleCode {
    private static final String LETTERS = "PCBU";

    /** Who gives a code its meaning (SAE J2012, from memory). */
    public enum Owner {
        ISO_SAE, MAKER, MIXED, RESERVED
    }

    public J2012Code {
        Require.that(number >= 0 && number <= 0xFFFF, "number must be two bytes, was %s", number);
        Require.that(failureType.isEmpty() || failureType.getAsInt() >= 0 && failureType.getAsInt() <= 0xFF, "failureType must be one byte");
    }

    public static J2012Code ofTwoBytes(int bytes) {
        return new J2012Code(bytes, OptionalInt.empty());
    }

    public static J2012Code ofThreeBytes(int bytes) {
        return new J2012Code(bytes >>> 8, OptionalInt.of(bytes & 0xFF));
    }

    /** {@code U0121} or {@code U0121-87}, in either case of letters; empty if the text is no code. */
    public static Optional<J2012Code> parse(String text) {
        if (fault(text).isPresent()) {
            return Optional.empty();
        }
        int letter = LETTERS.indexOf(text.substring(0, 1).toUpperCase(Locale.ROOT));
        int number = letter << 14 | Integer.parseInt(text.substring(1, 5), 16);
        return Optional.of(new J2012Code(number, text.length() == 5 ? OptionalInt.empty() : OptionalInt.of(Integer.parseInt(text.substring(6), 16))));
    }

    /** Why the text is no code, or empty if it is one. */
    public static Optional<Why> fault(String text) {
        if (text.length() != 5 && text.length() != 8) {
            return Optional.of(Why.LENGTH);
        }
        if (LETTERS.indexOf(Character.toUpperCase(text.charAt(0))) < 0 || text.length() == 8 && text.charAt(5) != '-') {
            return Optional.of(Why.FORM);
        }
        if (!Hex.isHex(text, 1, 5) || !Hex.isHex(text, 6, text.length())) {
            return Optional.of(Why.NOT_HEX);
        }
        return text.charAt(1) > '3' ? Optional.of(Why.FORM) : Optional.empty();
    }

    /** All zero: an unused slot, never a fault. */
    public boolean isUnused() {
        return number == 0;
    }

    public char letter() {
        return LETTERS.charAt(number >>> 14);
    }

    /** The code without its failure type, such as {@code U0121}. */
    public String base() {
        return String.format(Locale.ROOT, "%c%04X", letter(), number & 0x3FFF);
    }

    /** The failure type as two hexadecimal characters, such as {@code 87}. */
    public Optional<String> failureTypeText() {
        return failureType.isPresent() ? Optional.of(String.format(Locale.ROOT, "%02X", failureType.getAsInt())) : Optional.empty();
    }

    @Override
    public String text() {
        return failureTypeText().map(type -> base() + "-" + type).orElse(base());
    }

    public Owner owner() {
        int second = number >>> 12 & 3;
        return switch (letter()) {
            case 'P' -> second == 1 || second == 3 && (number >>> 8 & 0xF) < 4 ? Owner.MAKER : Owner.ISO_SAE;
            case 'U' -> second == 0 ? Owner.ISO_SAE : second == 3 ? Owner.MIXED : Owner.MAKER;
            default -> second == 0 ? Owner.ISO_SAE : second == 3 ? Owner.RESERVED : Owner.MAKER;
        };
    }
}
