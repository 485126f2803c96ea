package comebackledger.baseline;

import comebackledger.trail.Flag;
import comebackledger.trail.SeriesPoint;
import comebackledger.trail.Trail;
import comebackledger.trail.UnitView;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;

/** The readings of a unit that run toward their limit at an instant. Readings before a repair of their system do not count. */
final class Drifts {
    /** Older readings say little of today's drift, and every pair of readings costs (common practice, no source). */
    private static final int READINGS_AT_MOST = 60;
    static final Drifts NONE = new Drifts(List.of(), List.of(), List.of());

    /** A line, and since when its crossing has been near enough to plan for. */
    private record Standing(DriftLine line, Flag flag, boolean systemOpen) {}

    private final List<Standing> standing;
    private final List<Instant> starts;
    private final List<DriftLine> lines;

    private Drifts(List<Standing> standing, List<Instant> starts, List<DriftLine> lines) {
        this.standing = standing;
        this.starts = starts;
        this.lines = lines;
    }

    static Drifts of(UnitView view, OptionalDouble kmPerDay) {
        SortedMap<String, List<SeriesPoint>> series = new TreeMap<>();
        for (SeriesPoint point : view.state().series()) {
            if (point.afterRepairs() == view.state().repairsDone().getOrDefault(system(point.series()), 0)) {
                series.computeIfAbsent(point.series(), _ -> new ArrayList<>()).add(point);
            }
        }
        List<Standing> standing = new ArrayList<>();
        List<Instant> starts = new ArrayList<>();
        List<DriftLine> lines = new ArrayList<>();
        series.replaceAll((_, points) -> points.subList(Math.max(0, points.size() - READINGS_AT_MOST), points.size()));
        series.forEach((name, points) -> DriftLine.through(system(name), points, view.meters(), kmPerDay).ifPresent(line -> {
            lines.add(line);
            Instant from = line.plannedFrom(view.policy().drift());
            if (from.isAfter(view.at())) {
                starts.add(from);
            } else {
                standing.add(new Standing(line, flag(name, line, since(line, from, points, view, kmPerDay)), isOpen(view, line.system())));
            }
        }));
        return lines.isEmpty() ? NONE : new Drifts(List.copyOf(standing), List.copyOf(starts), List.copyOf(lines));
    }

    private static String system(String series) {
        return series.substring(0, series.lastIndexOf('.'));
    }

    private static boolean isOpen(UnitView view, String system) {
        return view.trails().stream().filter(trail -> trail.place().system().equals(system))
                .anyMatch(trail -> trail.state() == Trail.State.OPEN || trail.state() == Trail.State.SUSPECTED);
    }

    /** The start of the unbroken time for which it has stood: it may have stood since fewer readings. */
    private static Instant since(DriftLine newest, Instant from, List<SeriesPoint> points, UnitView view, OptionalDouble kmPerDay) {
        Instant since = from;
        for (int n = points.size() - 1; n >= DriftLine.READINGS && since.equals(points.get(n).at()); n--) {
            Optional<Instant> earlier = DriftLine.through(newest.system(), points.subList(0, n), view.meters(), kmPerDay)
                    .map(line -> line.plannedFrom(view.policy().drift()));
            if (earlier.isEmpty() || earlier.get().isAfter(points.get(n).at())) {
                break;
            }
            since = earlier.get();
        }
        return since;
    }

    private static Flag flag(String series, DriftLine line, Instant since) {
        double left = line.crossing() - line.lastX();
        String meets = left > 0
                ? String.format(Locale.ROOT, "meets it %,.0f %s after the newest", left, line.measure().word())
                : "has met it already";
        String detail = String.format(Locale.ROOT, "%s runs toward its limit of %.3g over %d visits, and the line through its readings %s.", series,
                line.limit(), line.visits().size(), meets);
        return new Flag(Flag.Kind.DRIFTING, line.system(), since, Optional.empty(), line.visits(), detail);
    }

    boolean any() {
        return !standing.isEmpty();
    }

    List<Flag> flags() {
        return standing.stream().map(Standing::flag).toList();
    }

    /** The instants at which a reading's crossing comes into the planning horizon. */
    List<Instant> starts() {
        return starts;
    }

    /** The flags whose crossing falls inside a trip that starts at an instant. */
    List<Flag> on(Outlook.Trip trip, Usage usage, Instant at) {
        return standing.stream().filter(one -> ahead(one.line(), trip, usage).filter(ahead -> !one.line().withinFrom(ahead).isAfter(at)).isPresent())
                .map(Standing::flag).toList();
    }

    /** The instants at which a crossing comes into a trip. */
    List<Instant> tripStarts(Outlook.Trip trip, Usage usage) {
        return lines.stream().map(line -> ahead(line, trip, usage).map(line::withinFrom)).flatMap(Optional::stream).toList();
    }

    private static Optional<Double> ahead(DriftLine line, Outlook.Trip trip, Usage usage) {
        OptionalDouble length = trip.in(line.measure(), usage);
        return length.isPresent() ? Optional.of(length.getAsDouble()) : Optional.empty();
    }

    /** The chance that any of them meets its limit on a trip; a system whose fault is open already opens no new one. */
    double chanceWithin(Outlook.Trip trip, Usage usage, Instant at) {
        double none = 1;
        for (Standing one : standing) {
            if (!one.systemOpen()) {
                none *= 1 - ahead(one.line(), trip, usage).map(ahead -> one.line().chanceWithin(ahead, at)).orElse(0.0);
            }
        }
        return 1 - none;
    }
}
