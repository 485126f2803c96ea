package comebackledger.baseline;

import comebackledger.measure.MeterLine;
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
    private final Measure measure;
    private final Usage usage;
    private final OptionalDouble exposure;
    private final Optional<Instant> countedAfter;
    private final List<Reading> odometer;
    private final SortedMap<String, Instant> firstReturns = new TreeMap<>();

    Tale(UnitSummary unit, Instant at, Measure measure, Usage peers) {
        this.unit = unit;
        this.at = at;
        this.measure = measure;
        this.usage = Usage.own(unit, at).or(peers);
        this.odometer = Reading.odometer(unit, at);
        for (UnitSummary.Mended repair : unit.repairs()) {
            repair.nextEpisodeAt().ifPresent(next -> firstReturns.merge(repair.place(), next, (one, other) -> one.isBefore(other) ? one : other));
        }
        Exposure covered = Exposure.of(unit, at, peers);
        Optional<Instant> start = Exposure.start(unit);
        exposure = switch (measure) {
            case KM -> covered.km();
            case DAYS -> start.isPresent() ? OptionalDouble.of(covered.days()) : OptionalDouble.empty();
        };
        countedAfter = switch (measure) {
            case KM -> odometer.stream().findFirst().map(Reading::at);
            case DAYS -> start;
        };
    }

    OptionalDouble exposure() {
        return exposure;
    }

    Usage usage() {
        return usage;
    }

    /** Episodes by system that count, without those that only came back where a repair was watched. */
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
        List<Spell> spells = new ArrayList<>();
        for (UnitSummary.Mended repair : unit.repairs()) {
            if (!repair.at().isAfter(at)) {
                spell(repair).ifPresent(spells::add);
            }
        }
        return spells;
    }

    private Optional<Spell> spell(UnitSummary.Mended repair) {
        Optional<Instant> next = repair.nextEpisodeAt().filter(then -> !then.isAfter(at));
        Optional<Instant> renewed = repair.nextRepairAt().filter(then -> !then.isAfter(at));
        boolean ended = renewed.isPresent() && (next.isEmpty() || renewed.get().isBefore(next.get()));
        boolean returned = next.isPresent() && !ended;
        OptionalDouble length;
        if (returned || ended) {
            Instant until = ended ? renewed.orElseThrow() : next.orElseThrow();
            OptionalDouble km = ended ? repair.kmToRepair() : repair.kmToEpisode();
            length = measure == Measure.DAYS ? OptionalDouble.of(MeterLine.daysBetween(repair.at(), until)) : km;
        } else {
            length = ageOf(repair);
        }
        return length.isEmpty()
                ? Optional.empty()
                : Optional.of(new Spell(stratum(repair), Math.max(0, length.getAsDouble()), returned, !returned && !ended));
    }

    /** What was covered since a repair, up to the instant. */
    private OptionalDouble ageOf(UnitSummary.Mended repair) {
        Instant end = unit.retiredAt().filter(retired -> retired.isBefore(at)).orElse(at);
        double days = Math.max(0, MeterLine.daysBetween(repair.at(), end));
        if (measure == Measure.DAYS) {
            return OptionalDouble.of(days);
        }
        if (usage.kmPerDay().isEmpty() || odometer.isEmpty()) {
            return OptionalDouble.empty();
        }
        double perDay = usage.kmPerDay().getAsDouble();
        Reading last = odometer.getLast();
        boolean unbroken = repair.kmAt().isPresent() && odometer.stream().anyMatch(reading -> reading.piece() == last.piece()
                && reading.total() == repair.kmAt().getAsDouble() && !reading.at().isAfter(repair.at()));
        double onward = perDay * Math.max(0, MeterLine.daysBetween(last.at().isAfter(repair.at()) ? last.at() : repair.at(), end));
        return OptionalDouble.of(unbroken ? last.total() - repair.kmAt().orElseThrow() + onward : perDay * days);
    }

    /** Kind of system, action, and whether it repaired a return: what is repaired twice holds less often. */
    private String stratum(UnitSummary.Mended repair) {
        Instant firstReturn = firstReturns.get(repair.place());
        boolean again = firstReturn != null && !firstReturn.isAfter(repair.at());
        return Lessons.kind(repair.system()) + "/" + repair.action() + (again ? "/again" : "");
    }
}
