package comebackledger.code;

import comebackledger.Require;

/**
 * A 29-bit identifier of SAE J1939-21. A PDU format below 240 addresses one destination; from 240 on, its low byte belongs to the group.
 *
 * @param parameterGroup with both data page bits
 * @param destination 255 is everyone
 */
public record J1939Identifier(int priority, int parameterGroup, int sourceAddress, int destination) {
    static final int EVERYONE = 255;

    public static J1939Identifier of(int identifier) {
        Require.that(identifier >= 0 && identifier <= 0x1FFFFFFF, "identifier must have 29 bits, was %s", identifier);
        int format = identifier >>> 16 & 0xFF;
        int specific = identifier >>> 8 & 0xFF;
        int pages = identifier >>> 24 & 3;
        boolean addressed = format < 240;
        return new J1939Identifier(identifier >>> 26, pages << 16 | format << 8 | (addressed ? 0 : specific), identifier & 0xFF,
                addressed ? specific : EVERYONE);
    }
}
