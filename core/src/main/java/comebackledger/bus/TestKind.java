package comebackledger.bus;

import java.util.Arrays;
import java.util.Optional;

/** The closed list of tests a technician can be sent to, and the minutes each takes (common practice, no source). */
public enum TestKind {
    REPEAT_POWER_OFF("repeat-power-off", 5), ROLL_CALL("roll-call", 5), HIGH_LOW_AT_CONNECTOR("high-low-at-connector", 3),
    HIGH_GROUND_AT_CONNECTOR("high-ground-at-connector", 2), LOW_GROUND_AT_CONNECTOR("low-ground-at-connector", 2),
    HIGH_SUPPLY_AT_CONNECTOR("high-supply-at-connector", 4), LOW_SUPPLY_AT_CONNECTOR("low-supply-at-connector", 4),
    RESTING_VOLTAGES("resting-voltages", 3), HIGH_LOW_AT_MODULE("high-low-at-module", 10), MODULE_PINS("module-pins", 10),
    UNPLUG_MODULE("unplug-module", 6), TERMINATOR_OUT("terminator-out", 8), SPLIT_TRUNK("split-trunk", 15),
    LINE_END_TO_END("line-end-to-end", 12), WIGGLE("wiggle", 10), SUPPLY_DROP("supply-drop", 10);

    private final String word;
    private final double minutes;

    TestKind(String word, double minutes) {
        this.word = word;
        this.minutes = minutes;
    }

    /** As written on the wire. */
    public String word() {
        return word;
    }

    /** The default; a policy may say otherwise. */
    public double minutes() {
        return minutes;
    }

    public static Optional<TestKind> ofWord(String word) {
        return Arrays.stream(values()).filter(kind -> kind.word.equals(word)).findFirst();
    }
}
