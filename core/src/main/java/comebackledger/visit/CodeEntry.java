package comebackledger.visit;

import comebackledger.Require;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * A trouble code as read: either an SAE J2012 code or an SAE J1939 suspect parameter with its failure mode.
 *
 * @param code such as U0121 or U0121-87
 * @param reportedBy the module that keeps the code
 * @param occurrences how often, as the reporter counts
 * @param setDuringService the work itself set it
 */
public record CodeEntry(Optional<String> code, OptionalInt spn, OptionalInt fmi, OptionalInt sourceAddress, Optional<String> network,
        Optional<String> reportedBy, CodeStatus status, OptionalInt occurrences, boolean setDuringService, Stage stage) {
    public CodeEntry {
        Require.that(code.isPresent() != spn.isPresent(), "a code entry has either code, or spn with fmi");
        Require.that(spn.isPresent() == fmi.isPresent(), "spn and fmi go together");
    }
}
