package comebackledger.fleet;

import comebackledger.stat.MeanCumulative;
import comebackledger.trail.UnitSummary.Opened;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * How many episodes a unit has on average by a distance, a time or engine hours since it was first seen; the spread between units counted.
 *
 * @param units that have the measure
 */
public record Recurrence(List<MeanCumulative.Point> points, int units) {
    private static final double CONFIDENCE = 0.95;

    public static Recurrence of(FleetRows rows, FleetQuestion question, Measure measure) {
        List<MeanCumulative.History> histories = new ArrayList<>();
        Observed.each(rows, question, observed -> observed.line(measure).map(line -> history(observed, question, line)).ifPresent(histories::add));
        return new Recurrence(MeanCumulative.of(histories, CONFIDENCE), histories.size());
    }

    /** Episodes before the first known total were not watched on this measure. */
    private static MeanCumulative.History history(Observed observed, FleetQuestion question, LifeLine line) {
        double until = line.until(observed.end()).value();
        double[] events = observed.unit().episodes().stream().filter(question::counts).map(Opened::openedAt)
                .filter(at -> !at.isBefore(line.start()) && !at.isAfter(observed.end())).mapToDouble(at -> Math.min(until, line.until(at).value()))
                .toArray();
        return new MeanCumulative.History(events, until);
    }

    /** The last point, if anything happened. */
    public Optional<MeanCumulative.Point> last() {
        return points.isEmpty() ? Optional.empty() : Optional.of(points.getLast());
    }
}
