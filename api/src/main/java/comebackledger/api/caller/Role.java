package comebackledger.api.caller;

import java.util.Map;

/** What a caller may be; the words of the token's groups in lower case. */
public enum Role {
    PLANNER, TECHNICIAN, DISPATCHER, ADMINISTRATOR;

    static final Map<String, Role> BY_WORD = Map.of("planner", PLANNER, "technician", TECHNICIAN, "dispatcher", DISPATCHER, "administrator",
            ADMINISTRATOR);
}
