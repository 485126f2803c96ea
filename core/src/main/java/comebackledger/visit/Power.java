package comebackledger.visit;

import java.util.Map;

/** Whether the vehicle was powered while a resistance was measured. */
public enum Power implements Word {
    OFF("off"), ON("on");

    /** By wire spelling. */
    public static final Map<String, Power> WORDS = Word.map(values());

    private final String word;

    Power(String word) {
        this.word = word;
    }

    @Override
    public String word() {
        return word;
    }
}
