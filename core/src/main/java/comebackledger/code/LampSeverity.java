package comebackledger.code;

import java.util.Set;

/** How grave a sender's lamps say it is, gravest first (SAE J1939-73 lamp definitions, from memory, own wording). */
public enum LampSeverity {
    STOP("stop"), WARNING("warning"), PROBABLY_NOT_ELECTRONIC("probably-not-electronic"), EMISSION_RELATED("emission-related"), NONE("none");

    private final String word;

    LampSeverity(String word) {
        this.word = word;
    }

    public String word() {
        return word;
    }

    /** The gravest of the lamps that are on. */
    public static LampSeverity of(Set<Lamp> on) {
        return on.contains(Lamp.RED_STOP)
                ? STOP
                : on.contains(Lamp.AMBER_WARNING)
                        ? WARNING
                        : on.contains(Lamp.PROTECT) ? PROBABLY_NOT_ELECTRONIC : on.contains(Lamp.MALFUNCTION) ? EMISSION_RELATED : NONE;
    }
}
