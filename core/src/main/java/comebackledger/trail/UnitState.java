package comebackledger.trail;

import comebackledger.judge.CodeMemory;
import comebackledger.measure.MeterReading;
import java.time.Instant;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * What the fold keeps of a unit: facts only, nothing that ages.
 *
 * @param visits how many counted
 * @param firstVisitAt arrival of the first
 * @param trails by place
 * @param silences of modules silent when last called, by network and module
 * @param findings the latest failing check, by network
 * @param lamps the last report of each lamp, by wire name
 * @param repairsDone how often something was done, by system
 */
public record UnitState(int visits, Optional<Instant> firstVisitAt, Optional<LastVisit> lastVisit, List<MeterReading> odometer,
        List<MeterReading> engineHours, CodeMemory codes,
        SortedMap<String, TrailState> trails, SortedMap<String, SilenceState> silences, SortedMap<String, NetworkFinding> findings,
        Optional<LossState> loss,
        SortedMap<String, LampState> lamps, Duty duty, SortedMap<String, Integer> repairsDone, List<SeriesPoint> series) {
    private static final Class<?> UNMODIFIABLE = Collections.unmodifiableSortedMap(new TreeMap<String, String>()).getClass();

    public static final UnitState EMPTY = new UnitState(0, Optional.empty(), Optional.empty(), List.of(), List.of(), CodeMemory.NONE, new TreeMap<>(),
            new TreeMap<>(),
            new TreeMap<>(), Optional.empty(), new TreeMap<>(), Duty.CLEAR, new TreeMap<>(), List.of());

    public UnitState {
        odometer = List.copyOf(odometer);
        engineHours = List.copyOf(engineHours);
        trails = kept(trails);
        silences = kept(silences);
        findings = kept(findings);
        lamps = kept(lamps);
        repairsDone = kept(repairsDone);
        series = List.copyOf(series);
    }

    /** An unmodifiable map is taken as it is: a step hands on most of them unchanged, and nobody holds on to what is under those it makes. */
    private static <V> SortedMap<String, V> kept(SortedMap<String, V> map) {
        return map.getClass() == UNMODIFIABLE ? map : Collections.unmodifiableSortedMap(new TreeMap<>(map));
    }

    /** Whether all that readiness and trails rest on is the same; meters and the last visit apart. */
    public boolean standsAs(UnitState other) {
        return trails.equals(other.trails) && lamps.equals(other.lamps) && silences.equals(other.silences) && findings.equals(other.findings)
                && loss.equals(other.loss) && duty.equals(other.duty);
    }
}
