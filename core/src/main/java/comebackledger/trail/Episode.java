package comebackledger.trail;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * An episode as it stands at an instant.
 *
 * @param closedAt empty while open
 * @param closedBy the visit; empty while open, and where the quiet window ran out
 * @param comeback it opened inside the repeat window after the latest claimed repair of the same place
 * @param moving it opened inside the window of a later repair, elsewhere in its system, that had closed an episode
 * @param sinceRepair what passed since {@code after}
 * @param after the visit of that repair
 * @param movedFrom the visit of the repair elsewhere
 */
public record Episode(String openedBy, Instant openedAt, Optional<Instant> closedAt, Optional<String> closedBy, boolean confirmed,
        boolean noFaultFound,
        boolean comeback, boolean moving, Optional<UnitMeters.Since> sinceRepair, Optional<String> after, Optional<String> movedFrom,
        List<String> accusedPlaces, List<String> failedAtBench) {
    /**
     * Whether an episode opened once a claimed repair was done. A visit released as it arrived repairs at the very instant at which it found something,
     * and what it found came first.
     */
    static boolean openedAfter(String openedBy, Instant openedAt, Optional<String> closedBy, String repairedBy, Instant repairedAt) {
        boolean itsOwn = openedBy.equals(repairedBy) || closedBy.filter(repairedBy::equals).isPresent();
        return openedAt.isAfter(repairedAt) || openedAt.equals(repairedAt) && !itsOwn;
    }

    boolean openedAfter(String repairedBy, Instant repairedAt) {
        return openedAfter(openedBy, openedAt, closedBy, repairedBy, repairedAt);
    }

    public boolean open() {
        return closedAt.isEmpty();
    }

    /** Whether it counts as a return: a comeback, or a fault that moved. */
    public boolean isReturn() {
        return comeback || moving;
    }
}
