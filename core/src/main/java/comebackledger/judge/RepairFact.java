package comebackledger.judge;

import comebackledger.visit.Place;
import comebackledger.visit.RepairAction;
import java.util.Optional;

/** A repair whose place a trail can hang on. */
public record RepairFact(Place place, RepairAction action, Optional<String> cause, boolean claimsFixed) {
    /** Something was done; an entry with action none is a note. */
    public boolean done() {
        return action != RepairAction.NONE;
    }
}
