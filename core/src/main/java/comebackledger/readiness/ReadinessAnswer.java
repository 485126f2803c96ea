package comebackledger.readiness;

import comebackledger.trail.LastVisit;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * The dispatch answer with its grounds.
 *
 * @param validUntil the first instant at which the answer or its reasons would change with no new evidence, at most 24 h ahead
 * @param risk left out where it cannot be computed
 * @param riskAbsent then why
 */
public record ReadinessAnswer(String unit, Answer answer, Instant at, Instant validUntil, int policyVersion, List<Reason> reasons,
        Optional<Risk> risk, Optional<String> riskAbsent,
        int visits, Optional<LastVisit> lastVisit) {
    /** The same told at a later instant, while it holds. */
    public ReadinessAnswer asOf(Instant instant) {
        return at.equals(instant)
                ? this
                : new ReadinessAnswer(unit, answer, instant, validUntil, policyVersion, reasons, risk, riskAbsent, visits, lastVisit);
    }
}
