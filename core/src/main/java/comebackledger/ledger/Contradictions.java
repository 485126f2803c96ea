package comebackledger.ledger;

import comebackledger.judge.Warning;
import comebackledger.trail.UnitMeters;
import comebackledger.visit.Visit;
import java.util.ArrayList;
import java.util.List;

/** What of a visit contradicts other visits of its unit. */
final class Contradictions {
    private Contradictions() {}

    /** @param meters of the unit with all of its visits */
    static List<Warning> of(Visit visit, UnitMeters meters) {
        List<Warning> warnings = new ArrayList<>();
        if (meters.km().leftOut().contains(visit.id())) {
            warnings.add(new Warning("/meters/odometer",
                    "The odometer contradicts other visits: it falls, or rises by more than 2 500 km a day. Kept, and left out of distances. "
                            + "If the meter was replaced, send odometerReplaced: true."));
        }
        if (meters.engineHours().leftOut().contains(visit.id())) {
            warnings.add(new Warning("/meters/engineHours",
                    "The hour meter contradicts other visits: it falls, or rises by more than 24 h a day. Kept, and left out of hours. "
                            + "If the meter was replaced, send engineHoursReplaced: true."));
        }
        return warnings;
    }
}
