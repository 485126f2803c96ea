package comebackledger.briefing;

import comebackledger.measure.MeterLine;
import comebackledger.stat.ReadingTrend;
import comebackledger.trail.SeriesPoint;
import comebackledger.trail.Trail;
import comebackledger.trail.UnitView;
import comebackledger.visit.Place;
import comebackledger.visit.Stage;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * One kind of reading of a unit over its visits, against its limits.
 *
 * @param points in order
 * @param low of the newest reading that has one
 * @param trend of the readings since the last repair of the system: repaired parts drift anew
 * @param origin of the trend's axis where it is days: the first reading it counts
 * @param crossing where the trend meets a limit, on the trend's axis
 * @param repairs of the system, in order
 */
public record ReadingSeries(String series, List<Point> points, OptionalDouble low, OptionalDouble high, Axis axis, Optional<Instant> origin,
        ReadingTrend trend, Optional<ReadingTrend.Crossing> crossing, List<Mark> repairs) {
    private static final double CONFIDENCE = 0.95;

    /** What the trend runs over: the unit's life total where every reading has one of one unbroken stretch, else days since the first. */
    public enum Axis {
        KM("km"), DAYS("days");

        private final String word;

        Axis(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    /**
     * @param km the life total
     * @param counts taken since the last repair of its system, so that the trend counts it
     */
    public record Point(Instant at, OptionalDouble km, double value, String visit, Stage stage, boolean counts) {}

    /** A repair of the system. */
    public record Mark(Instant at, String visit, String place, String action) {}

    public ReadingSeries {
        points = List.copyOf(points);
        repairs = List.copyOf(repairs);
    }

    /** The same series with its newest points alone, and the repairs of their time; limits, trend and crossing stay those of all. */
    public ReadingSeries newest(int most) {
        if (points.size() <= most) {
            return this;
        }
        List<Point> kept = points.subList(points.size() - most, points.size());
        return new ReadingSeries(series, kept, low, high, axis, origin, trend, crossing,
                repairs.stream().filter(repair -> !repair.at().isBefore(kept.getFirst().at())).toList());
    }

    public String system() {
        return system(series);
    }

    /** Such as {@code highLowOhm}. */
    public String reading() {
        return series.substring(series.lastIndexOf('.') + 1);
    }

    private static String system(String series) {
        return series.substring(0, series.lastIndexOf('.'));
    }

    /** Every series of a unit, by name. */
    public static List<ReadingSeries> all(UnitView view) {
        SortedMap<String, List<SeriesPoint>> found = new TreeMap<>();
        view.state().series().forEach(point -> found.computeIfAbsent(point.series(), _ -> new ArrayList<>()).add(point));
        List<ReadingSeries> all = new ArrayList<>();
        found.forEach((name, points) -> all.add(of(name, points, view)));
        return List.copyOf(all);
    }

    private static ReadingSeries of(String series, List<SeriesPoint> points, UnitView view) {
        int repairsDone = view.state().repairsDone().getOrDefault(system(series), 0);
        List<SeriesPoint> counting = points.stream().filter(point -> point.afterRepairs() == repairsDone).toList();
        Axis axis = axis(counting, view);
        double[] at = counting.stream().mapToDouble(point -> axis == Axis.KM
                ? view.meters().km().at(point.visit()).orElseThrow()
                : MeterLine.daysBetween(counting.getFirst().at(), point.at())).toArray();
        ReadingTrend trend = ReadingTrend.of(at, counting.stream().mapToDouble(SeriesPoint::value).toArray(), CONFIDENCE);
        OptionalDouble low = points.reversed().stream().map(SeriesPoint::low).filter(OptionalDouble::isPresent).findFirst()
                .orElse(OptionalDouble.empty());
        OptionalDouble high = points.reversed().stream().map(SeriesPoint::high).filter(OptionalDouble::isPresent).findFirst()
                .orElse(OptionalDouble.empty());
        return new ReadingSeries(series,
                points.stream().map(point -> new Point(point.at(), view.meters().km().at(point.visit()), point.value(), point.visit(), point.stage(),
                        point.afterRepairs() == repairsDone)).toList(),
                low, high, axis, axis == Axis.DAYS ? counting.stream().map(SeriesPoint::at).findFirst() : Optional.empty(), trend,
                trend.crossing(low, high), marks(view, system(series)));
    }

    private static Axis axis(List<SeriesPoint> points, UnitView view) {
        List<Integer> pieces = points.stream().map(point -> view.meters().km().piece(point.visit())).distinct().toList();
        return pieces.size() == 1 && pieces.getFirst() >= 0 ? Axis.KM : Axis.DAYS;
    }

    private static List<Mark> marks(UnitView view, String system) {
        List<Mark> marks = new ArrayList<>();
        for (Trail trail : view.trails()) {
            Place place = trail.place();
            if (place.system().equals(system)) {
                trail.repairs().stream().filter(repair -> !repair.at().isAfter(view.at()))
                        .forEach(repair -> marks.add(new Mark(repair.at(), repair.visit(), place.toString(), repair.action())));
            }
        }
        marks.sort(Comparator.comparing(Mark::at).thenComparing(Mark::place));
        return marks;
    }
}
