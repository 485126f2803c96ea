package comebackledger.baseline;

import comebackledger.measure.MeterLine;
import comebackledger.trail.Totals;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Function;

/**
 * One unit's history up to an instant, in one measure: what it covered, which new faults it had, how long each repair was watched. An episode counts only
 * where there is exposure before it: the visit that first read the meter has none.
 */
final class Tale {
    private final UnitSummary unit;
    private final Instant at;
    private final Wear measure;
    private final Usage usage;
    private final Optional<Exposure.Line> covered;
    private final OptionalDouble exposure;
    private final Optional<Instant> countedAfter;
    private final Totals odometer;
    private final SortedMap<String, Instant> firstReturns = new TreeMap<>();

    Tale(UnitSummary unit, Instant at, Wear measure, Usage peers) {
        this.unit = unit;
        this.at = at;
        this.measure = measure;
        this.usage = Usage.own(unit, at).or(peers);
        this.odometer = unit.km().until(at);
        for (UnitSummary.Mended repair : unit.repairs()) {
            repair.nextEpisodeAt().ifPresent(next -> firstReturns.merge(repair.place(), next, (one, other) -> one.isBefore(other) ? one : other));
        }
        Optional<Instant> start = Exposure.start(unit);
        covered = switch (measure) {
            case KM -> Exposure.Line.of(odometer, usage.kmPerDay());
            case DAYS -> start.map(first -> new Exposure.Line(0, 0, first, 1));
        };
        exposure = covered.isPresent() ? OptionalDouble.of(covered.get().at(end())) : OptionalDouble.empty();
        countedAfter = switch (measure) {
            case KM -> odometer.isEmpty() ? Optional.empty() : Optional.of(odometer.at(0));
            case DAYS -> start;
        };
    }

    OptionalDouble exposure() {
        return exposure;
    }

    Usage usage() {
        return usage;
    }

    /** Episodes by system that count, without those that came back where something had been repaired. */
    SortedMap<String, Integer> fresh() {
        Set<String> returns = new HashSet<>();
        unit.repairs().forEach(repair -> repair.nextEpisodeAt().ifPresent(next -> returns.add(key(repair.place(), next))));
        return counted(episode -> !returns.contains(key(episode.place(), episode.openedAt())));
    }

    SortedMap<String, Integer> every() {
        return counted(_ -> true);
    }

    private SortedMap<String, Integer> counted(Function<UnitSummary.Opened, Boolean> counts) {
        SortedMap<String, Integer> found = new TreeMap<>();
        if (exposure.isPresent()) {
            unit.episodes().stream().filter(this::inside).filter(counts::apply).forEach(episode -> found.merge(episode.system(), 1, Integer::sum));
        }
        return found;
    }

    private boolean inside(UnitSummary.Opened episode) {
        return !episode.noFaultFound() && !episode.openedAt().isAfter(at) && countedAfter.filter(episode.openedAt()::isAfter).isPresent();
    }

    private static String key(String place, Instant openedAt) {
        return openedAt + " " + place;
    }

    /** How long each claimed repair released by then was watched, where that is known. */
    List<Spell> spells() {
        Instant end = end();
        return watches().stream().map(watch -> watch.at(end)).toList();
    }

    /** How it goes on; empty where no exposure is known. */
    Optional<Course> course(PeerRate peers) {
        return covered.map(line -> new Course(measure, line, unit.retiredAt(), sum(fresh()), sum(every()), watches(), peers));
    }

    private static int sum(SortedMap<String, Integer> counts) {
        return counts.values().stream().mapToInt(Integer::intValue).sum();
    }

    private Instant end() {
        return unit.retiredAt().filter(retired -> retired.isBefore(at)).orElse(at);
    }

    private List<Course.Watch> watches() {
        List<Course.Watch> watches = new ArrayList<>(unit.repairs().size());
        for (UnitSummary.Mended repair : unit.repairs()) {
            if (!repair.at().isAfter(at)) {
                watch(repair).ifPresent(watches::add);
            }
        }
        return watches;
    }

    private Optional<Course.Watch> watch(UnitSummary.Mended repair) {
        Optional<Instant> next = repair.nextEpisodeAt().filter(then -> !then.isAfter(at));
        Optional<Instant> renewed = repair.nextRepairAt().filter(then -> !then.isAfter(at));
        boolean ended = renewed.isPresent() && (next.isEmpty() || renewed.get().isBefore(next.get()));
        boolean returned = next.isPresent() && !ended;
        if (returned || ended) {
            Instant until = ended ? renewed.orElseThrow() : next.orElseThrow();
            OptionalDouble length = length(MeterLine.daysBetween(repair.at(), until), ended ? repair.kmToRepair() : repair.kmToEpisode());
            return length.isEmpty()
                    ? Optional.empty()
                    : Optional.of(new Course.Watch(stratum(repair), length.getAsDouble(), 0, until, returned, false));
        }
        return standing(repair);
    }

    /** Of a stretch between two visits: by the unit's usage where a meter was not read at both, or the return would be neither one nor a fresh fault. */
    private OptionalDouble length(double days, OptionalDouble km) {
        if (measure == Wear.DAYS) {
            return OptionalDouble.of(days);
        }
        return km.isPresent() || usage.kmPerDay().isEmpty() ? km : OptionalDouble.of(days * usage.kmPerDay().getAsDouble());
    }

    /** What was covered since a repair that still holds. */
    private Optional<Course.Watch> standing(UnitSummary.Mended repair) {
        if (measure == Wear.DAYS) {
            return Optional.of(new Course.Watch(stratum(repair), 0, 1, repair.at(), false, true));
        }
        if (usage.kmPerDay().isEmpty() || odometer.isEmpty()) {
            return Optional.empty();
        }
        double perDay = usage.kmPerDay().getAsDouble();
        int last = odometer.last();
        Instant lastAt = odometer.at(last);
        return Optional.of(unbroken(repair)
                ? new Course.Watch(stratum(repair), odometer.total(last) - repair.kmAt().orElseThrow(), perDay,
                        lastAt.isAfter(repair.at()) ? lastAt : repair.at(), false, true)
                : new Course.Watch(stratum(repair), 0, perDay, repair.at(), false, true));
    }

    /** Whether the total at a repair lies on one piece with the newest. */
    private boolean unbroken(UnitSummary.Mended repair) {
        int last = odometer.last();
        for (int i = 0; i <= last && repair.kmAt().isPresent() && !odometer.isAfter(i, repair.at()); i++) {
            if (odometer.piece(i) == odometer.piece(last) && odometer.total(i) == repair.kmAt().getAsDouble()) {
                return true;
            }
        }
        return false;
    }

    /** Kind of system, action, and whether it repaired a return: what is repaired twice holds less often. */
    private String stratum(UnitSummary.Mended repair) {
        Instant firstReturn = firstReturns.get(repair.place());
        boolean again = firstReturn != null && !firstReturn.isAfter(repair.at());
        return (Lessons.kind(repair.system()) + "/" + repair.action() + (again ? "/again" : "")).intern(); // a few, and kept by every unit
    }
}
