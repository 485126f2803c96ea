package comebackledger.visit;

import java.util.Map;

/** The text form of a bus log. */
public enum CaptureFormat implements Word {
    CANDUMP("candump");

    /** By wire spelling. */
    public static final Map<String, CaptureFormat> WORDS = Word.map(values());

    private final String word;

    CaptureFormat(String word) {
        this.word = word;
    }

    @Override
    public String word() {
        return word;
    }
}
