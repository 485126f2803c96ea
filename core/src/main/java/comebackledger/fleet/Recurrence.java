package comebackledger.fleet;

import comebackledger.stat.MeanCumulative;
import comebackledger.trail.UnitSummary.Opened;
import java.util.ArrayList;
import java.util.List;

/**
 * How many episodes a unit has on average by a distance, a time or engine hours since it was first seen; the spread between units counted.
 *
 * @param watched how far each unit that has the measure was watched, in order
 */
public record Recurrence(List<MeanCumulative.Point> points, List<Double> watched) {
    private static final double CONFIDENCE = 0.95;

    public static Recurrence of(FleetRows rows, FleetQuestion question, Measure measure) {
        List<MeanCumulative.History> histories = new ArrayList<>();
        Observed.each(rows, question, measure,
                observed -> observed.line(measure).map(line -> history(observed, question, line)).ifPresent(histories::add));
        return new Recurrence(MeanCumulative.of(histories, CONFIDENCE),
                histories.stream().map(MeanCumulative.History::observedUntil).sorted().toList());
    }

    /** Episodes before the first known total were not watched on this measure. */
    private static MeanCumulative.History history(Observed observed, FleetQuestion question, LifeLine line) {
        double until = line.until(observed.end()).value();
        double[] events = observed.unit().episodes().stream().filter(question::counts).map(Opened::openedAt)
                .filter(at -> !at.isBefore(line.start()) && !at.isAfter(observed.end())).mapToDouble(at -> Math.min(until, line.until(at).value()))
                .toArray();
        return new MeanCumulative.History(events, until);
    }

    /** How many units were watched at least so far. */
    public int atRisk(double at) {
        return Watched.atLeast(watched, at);
    }
}
