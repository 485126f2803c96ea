package comebackledger.baseline;

import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** A life total of one meter; totals of different pieces do not subtract. */
record Reading(Instant at, double total, int piece) {
    /** Known by an instant, in order. */
    static List<Reading> odometer(UnitSummary unit, Instant at) {
        List<Reading> readings = new ArrayList<>();
        for (UnitSummary.Metered visit : unit.visits()) {
            if (!visit.at().isAfter(at) && visit.km().isPresent()) {
                readings.add(new Reading(visit.at(), visit.km().getAsDouble(), visit.kmPiece()));
            }
        }
        return readings;
    }

    /** Known by an instant, in order. */
    static List<Reading> engineHours(UnitSummary unit, Instant at) {
        List<Reading> readings = new ArrayList<>();
        for (UnitSummary.Metered visit : unit.visits()) {
            if (!visit.at().isAfter(at) && visit.engineHours().isPresent()) {
                readings.add(new Reading(visit.at(), visit.engineHours().getAsDouble(), visit.hoursPiece()));
            }
        }
        return readings;
    }
}
