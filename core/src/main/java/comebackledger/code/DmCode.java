package comebackledger.code;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Stream;

/**
 * One code of a DM1 or DM2: four bytes.
 *
 * @param occurrences how often, as the sender counts; 126 means 126 or more
 */
public record DmCode(J1939Code code, OptionalInt occurrences) {
    private static final int COUNT_NOT_AVAILABLE = 127; // SAE J1939-73, from memory

    /** Empty for the fills that say there is no code: parameter 0 with mode 0, or all ones. */
    public static Optional<DmCode> of(int b0, int b1, int b2, int b3) {
        int fmi = b2 & 0x1F;
        int count = b3 & 0x7F;
        boolean zero = b0 == 0 && b1 == 0 && b2 == 0;
        boolean ones = b0 == 0xFF && b1 == 0xFF && b2 == 0xFF && b3 == 0xFF;
        if (zero || ones) {
            return Optional.empty();
        }
        boolean historic = (b3 & 0x80) != 0; // one of the earlier conversions, and the sender does not say which
        J1939Code code = historic
                ? new J1939Code(OptionalInt.empty(), candidates(b0, b1, b2), fmi)
                : J1939Code.of(Conversion.VERSION_4.spn(b0, b1, b2), fmi);
        return Optional.of(new DmCode(code, count == COUNT_NOT_AVAILABLE ? OptionalInt.empty() : OptionalInt.of(count)));
    }

    private static List<Integer> candidates(int b0, int b1, int b2) {
        return Stream.of(Conversion.VERSION_1, Conversion.VERSION_2, Conversion.VERSION_3).map(version -> version.spn(b0, b1, b2)).distinct().sorted()
                .toList();
    }
}
