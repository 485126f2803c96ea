package comebackledger.trail;

import comebackledger.measure.MeterLine;
import comebackledger.policy.Window;
import java.time.Instant;
import java.util.List;
import java.util.OptionalDouble;

/** The life totals of a unit's two meters. */
public final class UnitMeters {
    /** Two readings that rise by more contradict each other. */
    public static final double MOST_KM_PER_DAY = 2500;
    public static final double MOST_HOURS_PER_DAY = 24;

    private final MeterLine km;
    private final MeterLine engineHours;

    public UnitMeters(UnitState state) {
        this(state.meters());
    }

    UnitMeters(List<MetersRead> read) {
        km = new MeterLine(read.stream().map(MetersRead::odometer).toList(), MOST_KM_PER_DAY);
        engineHours = new MeterLine(read.stream().map(MetersRead::engineHours).toList(), MOST_HOURS_PER_DAY);
    }

    public MeterLine km() {
        return km;
    }

    public MeterLine engineHours() {
        return engineHours;
    }

    /** What passed from one visit to another. */
    public Since between(String earlierVisit, Instant from, String laterVisit, Instant to) {
        return new Since(MeterLine.daysBetween(from, to), km.between(earlierVisit, laterVisit), engineHours.between(earlierVisit, laterVisit));
    }

    /** A stretch in all three measures; days are always known. */
    public record Since(double days, OptionalDouble km, OptionalDouble engineHours) {
        /** Every known measure is at most its limit; exactly at the limit is inside. */
        public boolean inside(Window window) {
            return days <= window.days() && km.orElse(0) <= window.km() && engineHours.orElse(0) <= window.engineHours();
        }
    }
}
