package comebackledger.code;

/** The four warning lamps of SAE J1939-73, by where their two bits stand in the lamp bytes (from memory). */
public enum Lamp {
    PROTECT("protect", 0), AMBER_WARNING("amberWarning", 2), RED_STOP("redStop", 4), MALFUNCTION("malfunction", 6);

    private final String word;
    private final int shift;

    Lamp(String word, int shift) {
        this.word = word;
        this.shift = shift;
    }

    public String word() {
        return word;
    }

    int bitsOf(int lampByte) {
        return lampByte >>> shift & 3;
    }
}
