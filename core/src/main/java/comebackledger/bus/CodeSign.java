package comebackledger.bus;

import java.util.Optional;

/**
 * A trouble code as a sign of the network's state; what it means was decoded before.
 *
 * @param accused the module it speaks of
 * @param reporter the module that stored it
 * @param active now; else it is history
 */
public record CodeSign(Says says, Optional<String> accused, Optional<String> reporter, boolean active) {
    /** What a communication code can say. */
    public enum Says {
        LOST_COMMUNICATION, INVALID_DATA, BUS_OFF, LOW_SUPPLY
    }
}
