package comebackledger.code;

/**
 * The four ways in which SAE J1939-73 has laid a code into four bytes (from memory); 1 to 3 are historic.
 * <pre>
 *   version 1   spn from its high bits down: b0 = spn 18-11, b1 = spn 10-3, b2 = spn 2-0 and fmi
 *   version 2   as 1, with the first two bytes exchanged
 *   version 3   spn from its low bits up: b0 = spn 7-0, b1 = spn 15-8, b2 = spn 18-16 and fmi
 *   version 4   as 3; the conversion bit (bit 8 of b3) is 0, and 1 in all the others
 * </pre>
 */
enum Conversion {
    VERSION_1, VERSION_2, VERSION_3, VERSION_4;

    /** The number, as this version reads the first three bytes. */
    int spn(int b0, int b1, int b2) {
        return switch (this) {
            case VERSION_1 -> b0 << 11 | b1 << 3 | b2 >>> 5;
            case VERSION_2 -> b1 << 11 | b0 << 3 | b2 >>> 5;
            case VERSION_3, VERSION_4 -> b2 >>> 5 << 16 | b1 << 8 | b0;
        };
    }
}
