package comebackledger.judge;

import comebackledger.visit.Place;
import java.util.List;
import java.util.SortedSet;

/**
 * One fault seen in one visit, after its evidence is merged.
 *
 * @param accusedPlaces what the evidence accused, where a claimed repair named another cause
 * @param convictions the kinds of evidence that a proof has to repeat
 * @param byCodesAlone the place rests on trouble codes only
 */
public record Occurrence(Place place, Kind kind, List<Place> accusedPlaces, List<String> evidence, SortedSet<String> convictions,
        boolean byCodesAlone) {
    /** How sure the visit is of it. */
    public enum Kind {
        CONFIRMED, SUSPECTED, NO_FAULT_FOUND
    }

    public boolean confirmed() {
        return kind == Kind.CONFIRMED;
    }

    /** An inferred place is closed by a claimed repair anywhere in its system. */
    public boolean inferred() {
        String part = place.part().orElse("");
        return part.equals(Occurrences.TRUNK) || part.equals(Occurrences.UNLOCATED) || byCodesAlone;
    }
}
