package comebackledger.judge;

import comebackledger.code.CodeKind;
import comebackledger.visit.CodeStatus;
import comebackledger.visit.Stage;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * A trouble code of the visit, decoded.
 *
 * @param key tells this code of this reporter from every other, across visits
 * @param label as a person writes it
 * @param pointer where in the evidence it stands
 * @param system the place's system it belongs to; empty for a code that is neither communication nor charge air
 * @param accused the module it accuses
 * @param reporter the module that keeps it
 * @param occurrences empty where the reporter does not count
 */
public record CodeFact(String key, String label, String pointer, Family family, CodeKind kind, Optional<String> system, Optional<String> accused,
        Optional<String> reporter, CodeStatus status, OptionalInt occurrences, boolean setDuringService, Stage stage) {
    /** What a code is about. */
    public enum Family {
        COMMUNICATION, CHARGE_AIR, LOW_SUPPLY, OTHER
    }
}
