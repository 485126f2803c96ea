package comebackledger.bus;

import java.util.Arrays;
import java.util.Optional;

/** The closed vocabulary of what can be wrong with a network. */
public enum FaultKind {
    NONE_FOUND("none-found"), INTERMITTENT_NONE_PRESENT("intermittent-none-present"), TEST_CONDITION("test-condition"),
    TERMINATOR_MISSING("terminator-missing"), TERMINATOR_DRIFTED("terminator-drifted"), EXTRA_TERMINATOR("extra-terminator"),
    TRUNK_OPEN("trunk-open"), TRUNK_SERIES_RESISTANCE("trunk-series-resistance"), TRUNK_SHORT_HIGH_LOW("trunk-short-high-low"),
    SHORT_TO_GROUND("short-to-ground"), SHORT_TO_SUPPLY("short-to-supply"), MODULE_SUPPLY("module-supply"), MODULE_STUB("module-stub"),
    MODULE_INTERNAL("module-internal"), MODULE_SHUNT("module-shunt"), MODULE_UNPLUGGED("module-unplugged"), REPORTER_ITSELF("reporter-itself"),
    SENDER_DATA("sender-data"), SUPPLY_LOW("supply-low"), CONNECTOR_FAULT("connector-fault"), OTHER("other");

    private final String word;

    FaultKind(String word) {
        this.word = word;
    }

    /** As written on the wire. */
    public String word() {
        return word;
    }

    public static Optional<FaultKind> ofWord(String word) {
        return Arrays.stream(values()).filter(kind -> kind.word.equals(word)).findFirst();
    }
}
