package comebackledger.trail;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A warning that stands on a trail at an instant.
 *
 * @param expiresAt the last instant at which it stands if no new evidence comes; empty where only evidence can end it
 * @param grounds the visits it rests on
 * @param detail in words a person can repeat
 */
public record Flag(Kind kind, String place, Instant since, Optional<Instant> expiresAt, List<String> grounds, String detail) {
    /** The closed set, as the wire spells it in kebab-case. */
    public enum Kind {
        COMEBACK("comeback"), FREQUENT("frequent"), ACCELERATING("accelerating"), DRIFTING("drifting"), NO_FAULT_FOUND("no-fault-found"),
        UNPROVEN_FIX("unproven-fix"), MOVING("moving");

        private final String word;

        Kind(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }
}
