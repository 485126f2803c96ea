package comebackledger.code;

import java.util.Optional;

/** The diagnostic messages of SAE J1939-73 that carry codes, by parameter group (from memory). */
public enum DmKind {
    /** Active codes. */
    DM1(0xFECA),
    /** Codes that were active before. */
    DM2(0xFECB);

    private final int parameterGroup;

    DmKind(int parameterGroup) {
        this.parameterGroup = parameterGroup;
    }

    static Optional<DmKind> of(int parameterGroup) {
        return parameterGroup == DM1.parameterGroup ? Optional.of(DM1) : parameterGroup == DM2.parameterGroup ? Optional.of(DM2) : Optional.empty();
    }
}
