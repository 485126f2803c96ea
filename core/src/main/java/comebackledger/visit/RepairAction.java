package comebackledger.visit;

import java.util.Map;

/** What was done (the correction of complaint, cause, correction). */
public enum RepairAction implements Word {
    REPLACED("replaced"), REPAIRED("repaired"), CLEANED("cleaned"), TIGHTENED("tightened"), REROUTED("rerouted"), REPROGRAMMED("reprogrammed"),
    ADJUSTED("adjusted"), NONE("none");

    /** By wire spelling. */
    public static final Map<String, RepairAction> WORDS = Word.map(values());

    private final String word;

    RepairAction(String word) {
        this.word = word;
    }

    @Override
    public String word() {
        return word;
    }
}
