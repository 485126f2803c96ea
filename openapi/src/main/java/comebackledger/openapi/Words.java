package comebackledger.openapi;

import java.util.LinkedHashMap;
import java.util.Map;

/** Closed sets of words that are not enums of core. */
final class Words {
    /** The closed list of tests a technician can be sent to. */
    static final Map<String, String> TESTS = of("repeat-power-off", "roll-call", "high-low-at-connector", "high-ground-at-connector",
            "low-ground-at-connector", "high-supply-at-connector", "low-supply-at-connector", "resting-voltages", "high-low-at-module", "module-pins",
            "unplug-module", "terminator-out", "split-trunk", "line-end-to-end", "wiggle", "supply-drop");

    private Words() {}

    static Map<String, String> of(String... words) {
        Map<String, String> map = new LinkedHashMap<>();
        for (String word : words) {
            map.put(word, word);
        }
        return map;
    }
}
