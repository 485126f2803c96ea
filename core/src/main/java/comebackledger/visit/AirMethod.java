package comebackledger.visit;

import java.util.Map;

/** How the charge-air system was tested. */
public enum AirMethod implements Word {
    HELD_FLOW("held-flow"), HOLD_DOWN("hold-down"), SMOKE("smoke");

    /** By wire spelling. */
    public static final Map<String, AirMethod> WORDS = Word.map(values());

    private final String word;

    AirMethod(String word) {
        this.word = word;
    }

    @Override
    public String word() {
        return word;
    }
}
