package comebackledger.visit;

import java.util.Map;

/** Metrology's words: before any work on that system, or after it. */
public enum Stage implements Word {
    AS_FOUND("as-found"), AS_LEFT("as-left");

    /** By wire spelling. */
    public static final Map<String, Stage> WORDS = Word.map(values());

    private final String word;

    Stage(String word) {
        this.word = word;
    }

    @Override
    public String word() {
        return word;
    }
}
