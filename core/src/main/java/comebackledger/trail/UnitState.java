package comebackledger.trail;

import comebackledger.judge.CodeMemory;
import comebackledger.measure.MeterReading;
import java.time.Instant;
import java.util.AbstractList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Function;

/**
 * What the fold keeps of a unit: facts only, nothing that ages.
 *
 * @param visits how many counted
 * @param firstVisitAt arrival of the first
 * @param meters of the visits that read one
 * @param trails by place
 * @param silences of modules silent when last called, by network and module
 * @param findings the latest failing check, by network
 * @param lamps the last report of each lamp, by wire name
 * @param repairsDone how often something was done, by system
 */
public record UnitState(int visits, Optional<Instant> firstVisitAt, Optional<LastVisit> lastVisit, History<MetersRead> meters, CodeMemory codes,
        SortedMap<String, TrailState> trails, SortedMap<String, SilenceState> silences, SortedMap<String, NetworkFinding> findings,
        Optional<LossState> loss,
        SortedMap<String, LampState> lamps, Duty duty, SortedMap<String, Integer> repairsDone, History<SeriesPoint> series) {
    private static final Class<?> UNMODIFIABLE = Collections.unmodifiableSortedMap(new TreeMap<String, String>()).getClass();

    public static final UnitState EMPTY = new UnitState(0, Optional.empty(), Optional.empty(), History.of(List.of()), CodeMemory.NONE,
            new TreeMap<>(),
            new TreeMap<>(),
            new TreeMap<>(), Optional.empty(), new TreeMap<>(), Duty.CLEAR, new TreeMap<>(), History.of(List.of()));

    public UnitState {
        trails = kept(trails);
        silences = kept(silences);
        findings = kept(findings);
        lamps = kept(lamps);
        repairsDone = kept(repairsDone);
    }

    /** An unmodifiable map is taken as it is: a step hands on most of them unchanged, and nobody holds on to what is under those it makes. */
    private static <V> SortedMap<String, V> kept(SortedMap<String, V> map) {
        return map.getClass() == UNMODIFIABLE ? map : Collections.unmodifiableSortedMap(new TreeMap<>(map));
    }

    /** One reading a visit that read a meter; it shows nothing where only the other one was read. */
    public List<MeterReading> odometer() {
        return readings(MetersRead::odometer);
    }

    /** Likewise. */
    public List<MeterReading> engineHours() {
        return readings(MetersRead::engineHours);
    }

    private List<MeterReading> readings(Function<MetersRead, MeterReading> one) {
        return new AbstractList<>() {
            @Override
            public MeterReading get(int index) {
                return one.apply(meters.get(index));
            }

            @Override
            public int size() {
                return meters.size();
            }
        };
    }

    /** Whether all that readiness and trails rest on is the same; meters and the last visit apart. */
    public boolean standsAs(UnitState other) {
        return trails.equals(other.trails) && lamps.equals(other.lamps) && silences.equals(other.silences) && findings.equals(other.findings)
                && loss.equals(other.loss) && duty.equals(other.duty);
    }
}
