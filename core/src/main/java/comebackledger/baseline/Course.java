package comebackledger.baseline;

import comebackledger.measure.MeterLine;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * How one unit's history goes on in one measure while nothing more happens: what it covered and how old its repairs are at any instant.
 *
 * @param retiredAt nothing is covered after it
 * @param fresh episodes that count and are no return
 * @param every episodes that count
 * @param peers the spread of their rates of fresh faults
 */
record Course(Wear measure, Exposure.Line covered, Optional<Instant> retiredAt, int fresh, int every, List<Watch> watches, PeerRate peers) {
    /**
     * One repair under watch.
     *
     * @param length at {@code from}
     * @param perDay what it grows by from then on; 0 once the watch ended
     */
    record Watch(String stratum, double length, double perDay, Instant from, boolean returned, boolean standing) {
        Spell at(Instant end) {
            double more = standing ? perDay * Math.max(0, MeterLine.daysBetween(from, end)) : 0;
            return new Spell(stratum, Math.max(0, length + more), returned, standing);
        }
    }

    Course {
        watches = List.copyOf(watches);
    }

    double exposure(Instant at) {
        return covered.at(end(at));
    }

    List<Spell> spells(Instant at) {
        Instant end = end(at);
        List<Spell> spells = new ArrayList<>(watches.size());
        for (Watch watch : watches) {
            spells.add(watch.at(end));
        }
        return spells;
    }

    private Instant end(Instant at) {
        return retiredAt.isPresent() && retiredAt.get().isBefore(at) ? retiredAt.get() : at;
    }
}
