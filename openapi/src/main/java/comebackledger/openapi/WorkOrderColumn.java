package comebackledger.openapi;

import java.util.Arrays;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/** The columns of a table of work orders. A table may leave out all but the first three, and may have them in any order. */
public enum WorkOrderColumn {
    UNIT("unit", "/visit/unit"),
    /** The work order's own number. */
    VISIT("visit", "/visit/id"), ARRIVED_AT("arrived_at", "/visit/arrivedAt"), RELEASED_AT("released_at", "/visit/releasedAt"),
    /** Of the unit; used where the table is the first to name it. */
    GROUP("group", "/unit/group"), ODOMETER_KM("odometer_km", "/visit/meters/odometer"), ODOMETER_MI("odometer_mi", "/visit/meters/odometer"),
    ENGINE_HOURS("engine_hours", "/visit/meters/engineHours"), COMPLAINT("complaint", "/visit/complaint"),
    /** Trouble codes with spaces or semicolons between: {@code U0121}, or the suspect parameter and failure mode of SAE J1939 as {@code 639/9}. */
    CODES("codes", "/visit/codes"),
    /** One word for all codes of the row. */
    CODES_STATUS("codes_status", "/visit/codes"), CODES_NETWORK("codes_network", "/visit/codes"), PLACE("place", "/visit/repairs"),
    ACTION("action", "/visit/repairs"), CAUSE("cause", "/visit/repairs"), PART("part", "/visit/repairs"),
    CLAIMS_FIXED("claims_fixed", "/visit/repairs"),
    SHOP("shop", "/visit/shop"), NOTE("note", "/visit/note");

    private static final Map<String, WorkOrderColumn> BY_WORD = Arrays.stream(values())
            .collect(Collectors.toUnmodifiableMap(WorkOrderColumn::word, column -> column));

    private final String word;
    private final String pointer;

    WorkOrderColumn(String word, String pointer) {
        this.word = word;
        this.pointer = pointer;
    }

    /** As it stands in the first row. */
    public String word() {
        return word;
    }

    static Optional<WorkOrderColumn> ofWord(String word) {
        return Optional.ofNullable(BY_WORD.get(word));
    }

    /** Whether a fault found there speaks of this column. */
    boolean holds(String faultPointer) {
        return faultPointer.equals(pointer) || faultPointer.startsWith(pointer + "/");
    }

    static String words() {
        return Arrays.stream(values()).map(WorkOrderColumn::word).collect(Collectors.joining(", "));
    }
}
