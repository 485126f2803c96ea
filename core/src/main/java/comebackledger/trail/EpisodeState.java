package comebackledger.trail;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;

/**
 * From a fresh occurrence to what ended it.
 *
 * @param lastSignAt arrival of the last visit that saw it
 * @param convictions the kinds of evidence that a proof has to repeat
 * @param inferred closed by a claimed repair anywhere in its system
 * @param failedAtBench visits whose claimed repair an as-left test refuted
 * @param ending empty while open
 */
public record EpisodeState(String openedBy, Instant openedAt, String lastSignBy, Instant lastSignAt, Kind kind, SortedSet<String> convictions,
        boolean inferred,
        List<String> accusedPlaces, List<String> failedAtBench, Optional<Ending> ending) {

    /** How sure it is. */
    public enum Kind {
        CONFIRMED, SUSPECTED, NO_FAULT_FOUND
    }

    /** @param by the visit; empty when the quiet window ran out in days */
    public record Ending(How how, Instant at, Optional<String> by) {}

    /** What ended it. */
    public enum How {
        REPAIRED, PASSED, WAITED, AT_ONCE
    }

    boolean open() {
        return ending.isEmpty();
    }

    /** Open at an instant, as far as its ending is known. */
    boolean openAt(Instant at) {
        return ending.isEmpty() || ending.get().at().isAfter(at);
    }

    boolean repaired() {
        return ending.isPresent() && ending.get().how() == How.REPAIRED;
    }

    boolean openedAfter(String repairedBy, Instant repairedAt) {
        return Episode.openedAfter(openedBy, openedAt, ending.flatMap(Ending::by), repairedBy, repairedAt);
    }

    EpisodeState ended(Ending end) {
        return new EpisodeState(openedBy, openedAt, lastSignBy, lastSignAt, kind, convictions, inferred, accusedPlaces, failedAtBench,
                Optional.of(end));
    }

    EpisodeState failedAt(String visit) {
        List<String> failed = new ArrayList<>(failedAtBench);
        failed.add(visit);
        return new EpisodeState(openedBy, openedAt, lastSignBy, lastSignAt, kind, convictions, inferred, accusedPlaces, List.copyOf(failed), ending);
    }
}
