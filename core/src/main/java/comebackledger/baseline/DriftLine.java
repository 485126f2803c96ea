package comebackledger.baseline;

import comebackledger.measure.MeterLine;
import comebackledger.policy.Policy;
import comebackledger.stat.ReadingTrend;
import comebackledger.trail.SeriesPoint;
import comebackledger.trail.UnitMeters;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * The robust line through readings that run toward their limit. Distance is the axis where every reading has a total of one unbroken stretch, else days
 * since the first reading.
 *
 * @param lastX of the newest reading
 * @param lastAt when it was taken
 * @param crossing where the line meets the limit
 * @param spread its standard uncertainty, from the slope's 95 % limits
 * @param degrees of freedom that the readings leave beside a line: few readings tell neither its slope nor whether it bends
 * @param perDay what is covered in a day: 1 where the axis is days
 */
record DriftLine(String system, Wear measure, double lastX, Instant lastAt, double limit, double crossing, double spread, int degrees, double perDay,
        List<String> visits) {
    /** Fewer readings tell no drift; four that all rise are the fewest that a one-sided Kendall test at 0.05 can tell. */
    static final int READINGS = 4;
    private static final double SIGNIFICANT = 0.05;
    private static final double CONFIDENCE = 0.95;
    private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);
    private static final double Z = NORMAL.inverseCumulativeProbability((1 + CONFIDENCE) / 2);
    private static final long LONGEST_DAYS = 36_500;

    /** Empty where the readings do not run toward a limit by more than chance. @param points of one series, without a repair between them */
    static Optional<DriftLine> through(String system, List<SeriesPoint> points, UnitMeters meters, OptionalDouble kmPerDay) {
        if (points.size() < READINGS) {
            return Optional.empty();
        }
        boolean byKm = kmPerDay.orElse(0) > 0 && points.stream().mapToInt(point -> meters.km().piece(point.visit())).distinct().count() == 1
                && meters.km().piece(points.getFirst().visit()) >= 0;
        Instant first = points.getFirst().at();
        double[] x = points.stream()
                .mapToDouble(point -> byKm ? meters.km().at(point.visit()).orElseThrow() : MeterLine.daysBetween(first, point.at())).toArray();
        double[] y = points.stream().mapToDouble(SeriesPoint::value).toArray();
        SeriesPoint last = points.getLast();
        ReadingTrend trend = ReadingTrend.of(x, y, CONFIDENCE);
        boolean toward = trend.slope() * trend.kendallS() > 0 && trend.pValue() / 2 <= SIGNIFICANT;
        double lastX = x[x.length - 1];
        return toward
                ? trend.crossing(last.low(), last.high())
                        .map(met -> new DriftLine(system, byKm ? Wear.KM : Wear.DAYS, lastX, last.at(), met.limit(), met.at(),
                                spread(met, lastX), x.length - 2,
                                byKm ? kmPerDay.getAsDouble() : 1, points.stream().map(SeriesPoint::visit).distinct().toList()))
                : Optional.empty();
    }

    private static double spread(ReadingTrend.Crossing met, double lastX) {
        double early = met.earliest().isPresent() ? Math.abs(met.at() - met.earliest().getAsDouble()) / Z : 0;
        double late = met.latest().isPresent() ? Math.abs(met.latest().getAsDouble() - met.at()) / Z : 0;
        double known = Math.max(early, late);
        return known > 0 ? known : Math.max(Math.abs(met.at() - lastX), 1) / Z;
    }

    /** From when the crossing is within a distance ahead; never before the newest reading. Far in the future where it never comes near. */
    Instant withinFrom(double ahead) {
        double days = Math.max(0, (crossing - ahead - lastX) / perDay);
        return lastAt.plus(Duration.ofMillis(Math.round(Math.min(days, LONGEST_DAYS) * 86_400_000.0)));
    }

    /** From when it is within the planning horizon: in distance or in days, whichever comes first. */
    Instant plannedFrom(Policy.Drift horizon) {
        Instant byDays = withinFrom(horizon.days() * perDay);
        Instant byKm = measure == Wear.KM ? withinFrom(horizon.km()) : byDays;
        return byKm.isBefore(byDays) ? byKm : byDays;
    }

    /** The chance that the limit is met on a trip, not having been met before it: Student's t around the crossing. */
    double chanceWithin(double ahead, Instant at) {
        TDistribution law = TDistribution.of(degrees);
        double now = lastX + perDay * Math.max(0, MeterLine.daysBetween(lastAt, at));
        double notYet = law.survivalProbability((now - crossing) / spread);
        double notThen = law.survivalProbability((now + ahead - crossing) / spread);
        return notYet > 0 ? 1 - notThen / notYet : 1;
    }
}
