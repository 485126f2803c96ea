package comebackledger.visit;

import java.util.Map;

/** How a reported defect was certified (49 CFR 396.11). */
public enum Certification implements Word {
    REPAIRED("repaired"), REPAIR_UNNECESSARY("repair-unnecessary");

    /** By wire spelling. */
    public static final Map<String, Certification> WORDS = Word.map(values());

    private final String word;

    Certification(String word) {
        this.word = word;
    }

    @Override
    public String word() {
        return word;
    }
}
