package comebackledger.visit;

import java.util.Map;

/** The conditions a flow meter's reading refers to. */
public enum FlowReference implements Word {
    FREE_AIR("free-air"), ANR("anr"), FLOAT_METER_UNDER_PRESSURE("float-meter-under-pressure");

    /** By wire spelling. */
    public static final Map<String, FlowReference> WORDS = Word.map(values());

    private final String word;

    FlowReference(String word) {
        this.word = word;
    }

    @Override
    public String word() {
        return word;
    }
}
