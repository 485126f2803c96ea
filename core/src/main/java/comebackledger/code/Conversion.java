package comebackledger.code;

import comebackledger.Require;

/**
 * The four ways in which SAE J1939-73 has laid a code into four bytes (from memory); 1 to 3 are historic.
 * <pre>
 *   version 1   spn from its high bits down: b0 = spn 18-11, b1 = spn 10-3, b2 = spn 2-0 and fmi
 *   version 2   as 1, with the first two bytes exchanged
 *   version 3   spn from its low bits up: b0 = spn 7-0, b1 = spn 15-8, b2 = spn 18-16 and fmi
 *   version 4   as 3; the conversion bit (bit 8 of b3) is 0, and 1 in all the others
 * </pre>
 */
public enum Conversion {
    VERSION_1, VERSION_2, VERSION_3, VERSION_4;

    /** The four bytes of a code, first byte in the highest bits. */
    public int encode(int spn, int fmi, int occurrences) {
        Require.that(spn >= 0 && spn <= J1939Code.MAX_SPN, "spn must be from 0 to 524287, was %s", spn);
        Require.that(fmi >= 0 && fmi <= J1939Code.MAX_FMI, "fmi must be from 0 to 31, was %s", fmi);
        Require.that(occurrences >= 0 && occurrences <= 127, "occurrences must be from 0 to 127, was %s", occurrences);
        int last = (this == VERSION_4 ? 0 : 0x80) | occurrences;
        return switch (this) {
            case VERSION_1 -> bytes(spn >>> 11, spn >>> 3 & 0xFF, (spn & 7) << 5 | fmi, last);
            case VERSION_2 -> bytes(spn >>> 3 & 0xFF, spn >>> 11, (spn & 7) << 5 | fmi, last);
            case VERSION_3, VERSION_4 -> bytes(spn & 0xFF, spn >>> 8 & 0xFF, spn >>> 16 << 5 | fmi, last);
        };
    }

    /** The number, as this version reads the first three bytes. */
    int spn(int b0, int b1, int b2) {
        return switch (this) {
            case VERSION_1 -> b0 << 11 | b1 << 3 | b2 >>> 5;
            case VERSION_2 -> b1 << 11 | b0 << 3 | b2 >>> 5;
            case VERSION_3, VERSION_4 -> b2 >>> 5 << 16 | b1 << 8 | b0;
        };
    }

    private static int bytes(int b0, int b1, int b2, int b3) {
        return b0 << 24 | b1 << 16 | b2 << 8 | b3;
    }
}
