package comebackledger.trail;

import java.time.Instant;
import java.util.Optional;

/**
 * What was declared of the unit and not lifted.
 *
 * @param outOfServiceBy the visit that declared it out of service
 * @param defectBy the visit whose driver's report lists a defect that nobody certified
 */
public record Duty(Optional<String> outOfServiceBy, Optional<Instant> outOfServiceAt, Optional<String> defectBy, Optional<Instant> defectAt) {
    static final Duty CLEAR = new Duty(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
}
