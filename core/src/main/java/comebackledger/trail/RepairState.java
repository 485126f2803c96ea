package comebackledger.trail;

import java.time.Instant;
import java.util.Optional;

/**
 * A repair on a trail.
 *
 * @param at release of its visit; arrival while it is not released
 * @param closedEpisode it ended an episode of its system (a preventive repair ended none)
 * @param holds claimed, released and not refuted at the bench: it starts a repeat window
 */
public record RepairState(String visit, Instant at, String action, Optional<String> cause, boolean claimsFixed, boolean closedEpisode,
        boolean holds) {
    /** The same repair, having ended an episode. */
    RepairState closing() {
        return new RepairState(visit, at, action, cause, claimsFixed, true, holds);
    }
}
