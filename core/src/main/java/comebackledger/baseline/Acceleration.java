package comebackledger.baseline;

import comebackledger.measure.MeterLine;
import comebackledger.stat.EventTrend;
import comebackledger.trail.Clock;
import comebackledger.trail.Flag;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * The flag {@code accelerating}: at least four episodes on a system, and both the Laplace and the MIL-HDBK-189 test, observation ending at the instant,
 * reject a constant rate toward worse at one-sided 0.05. Time runs in days from the start of service (else the first visit, whose own episodes then
 * only start the watch).
 */
final class Acceleration {
    private static final int EPISODES = 4;
    private static final double ONE_SIDED = 0.05;
    private static final double LONGEST_DAYS = 36_500;

    private Acceleration() {}

    static List<Flag> flags(UnitSummary unit, Instant at) {
        SortedMap<String, List<UnitSummary.Opened>> systems = new TreeMap<>();
        unit.episodes().stream().filter(episode -> !episode.noFaultFound() && !episode.openedAt().isAfter(at))
                .sorted((one, other) -> one.openedAt().compareTo(other.openedAt()))
                .forEach(episode -> systems.computeIfAbsent(episode.system(), _ -> new ArrayList<>()).add(episode));
        List<Flag> flags = new ArrayList<>();
        Exposure.start(unit).ifPresent(start -> systems.forEach((system, episodes) -> flag(system, episodes, start, at).ifPresent(flags::add)));
        return flags;
    }

    private static Optional<Flag> flag(String system, List<UnitSummary.Opened> episodes, Instant start, Instant at) {
        double[] days = episodes.stream().mapToDouble(episode -> MeterLine.daysBetween(start, episode.openedAt())).toArray();
        double now = MeterLine.daysBetween(start, at);
        if (!worsens(days, days.length, now)) {
            return Optional.empty();
        }
        int first = days.length;
        while (worsens(days, first - 1, days[first - 1]) && worsens(days, first - 1, days[first - 2])) {
            first--;
        }
        return Optional
                .of(new Flag(Flag.Kind.ACCELERATING, system, episodes.get(first - 1).openedAt(), Optional.of(Clock.limit(start, end(days, now))),
                        episodes.stream().map(UnitSummary.Opened::openedBy).distinct().toList(),
                        days.length + " episodes come ever faster: the Laplace and the MIL-HDBK-189 test both say so at 0.05."));
    }

    /** The longest observation without another episode for which both tests still say so. */
    private static double end(double[] days, double now) {
        double stands = now;
        double ends = Math.max(1, now);
        while (worsens(days, days.length, ends) && ends < LONGEST_DAYS) {
            ends *= 2;
        }
        while (ends - stands > 1e-6) {
            double middle = (stands + ends) / 2;
            if (worsens(days, days.length, middle)) {
                stands = middle;
            } else {
                ends = middle;
            }
        }
        return stands;
    }

    private static boolean worsens(double[] days, int episodes, double until) {
        if (episodes < EPISODES) {
            return false;
        }
        double[] watched = Arrays.stream(days, 0, episodes).filter(day -> day > 0).toArray();
        if (watched.length == 0 || watched[watched.length - 1] > until) {
            return false;
        }
        EventTrend.Test laplace = EventTrend.laplaceByTime(watched, until);
        if (laplace.statistic() <= 0 || laplace.pValue() / 2 > ONE_SIDED) {
            return false;
        }
        EventTrend.ChiSquareTest handbook = EventTrend.militaryHandbookByTime(watched, until);
        return handbook.statistic() < handbook.degreesOfFreedom() && handbook.pValue() / 2 <= ONE_SIDED;
    }
}
