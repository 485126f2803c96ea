package comebackledger.code;

/** What the keeper of a code says of it. */
public enum CodeState {
    ACTIVE("active"), PENDING("pending"), STORED("stored"), PERMANENT("permanent");

    private final String word;

    CodeState(String word) {
        this.word = word;
    }

    public String word() {
        return word;
    }
}
