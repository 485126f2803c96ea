package comebackledger.bus;

/** Which conductor a fault is on; {@code centre} is the middle of a split terminator. */
public enum Line {
    HIGH("high"), LOW("low"), BOTH("both"), CENTRE("centre");

    private final String word;

    Line(String word) {
        this.word = word;
    }

    /** As written on the wire. */
    public String word() {
        return word;
    }
}
