package comebackledger.code;

import java.util.Optional;
import java.util.OptionalInt;

/**
 * A code as one sender reported it.
 *
 * @param occurrences the last count the sender gave
 * @param sourceAddress the sender's SAE J1939 address, or that of a 29-bit diagnostic answer
 * @param ecu the identifier of a diagnostic answer
 * @param networkInterface the log's name for the network
 * @param activeAtEnd whether the sender's last DM1 still held it; empty where no DM1 ever did
 * @param lamps of the message that last held it; they belong to the sender, not to the code
 */
public record SeenCode(TroubleCode code, Optional<CodeState> status, OptionalInt occurrences, OptionalInt sourceAddress, Optional<String> ecu,
        Optional<String> networkInterface, Optional<Boolean> activeAtEnd, Optional<DmLamps> lamps) {
    static SeenCode answered(TroubleCode code, Optional<CodeState> status, OptionalInt sourceAddress, Optional<String> ecu) {
        return new SeenCode(code, status, OptionalInt.empty(), sourceAddress, ecu, Optional.empty(), Optional.empty(), Optional.empty());
    }
}
