package comebackledger.visit;

import java.util.Map;

/** What the reporter says of its code. */
public enum CodeStatus implements Word {
    ACTIVE("active"), PENDING("pending"), STORED("stored"), PERMANENT("permanent");

    /** By wire spelling. */
    public static final Map<String, CodeStatus> WORDS = Word.map(values());

    private final String word;

    CodeStatus(String word) {
        this.word = word;
    }

    @Override
    public String word() {
        return word;
    }
}
