package comebackledger.fleet;

import comebackledger.stat.HoldComparison;
import comebackledger.stat.HoldCurve;
import comebackledger.trail.UnitSummary.Mended;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Which repairs hold: for each action, and for each action and cause, the share still holding. A repair returns with the next episode on its place; it
 * is seen to hold until the instant asked for, or until a preventive repair of the place. Across the actions they are compared by log-rank.
 *
 * @param actions in the order of the comparison's groups
 */
public record Holds(List<Item> items, List<String> actions, HoldComparison comparison) {
    private static final double CONFIDENCE = 0.95;

    /**
     * @param cause empty on the item that pools an action's repairs, whatever their cause
     * @param watched how far each repair was watched, in order
     */
    public record Item(String action, Optional<String> cause, int repairs, int returned, HoldCurve curve, List<Double> watched) {
        /** How many were watched at least so far. */
        public int atRisk(double held) {
            return Watched.atLeast(watched, held);
        }
    }

    /**
     * @param place whole, with {@code .*} at its end for all below, or a part alone; empty for all
     * @param action empty for all
     */
    public record Filter(Optional<String> place, Optional<String> action) {
        boolean takes(Mended repair) {
            return (action.isEmpty() || action.get().equals(repair.action())) && (place.isEmpty() || takes(place.get(), repair));
        }

        private static boolean takes(String asked, Mended repair) {
            if (asked.endsWith(".*")) {
                return repair.place().startsWith(asked.substring(0, asked.length() - 1));
            }
            return repair.place().equals(asked) || repair.place().equals(repair.system() + "." + asked);
        }
    }

    public static Holds of(FleetRows rows, FleetQuestion question, Filter filter, Measure measure) {
        SortedMap<String, SortedMap<String, List<HoldCurve.Repair>>> held = new TreeMap<>();
        Observed.each(rows, question, measure, observed -> {
            Optional<LifeLine> line = observed.line(measure);
            for (Mended repair : observed.unit().repairs()) {
                if (question.asksOfSystem(repair.system()) && filter.takes(repair) && !repair.at().isAfter(observed.end())) {
                    watched(repair, observed.end(), measure, line).ifPresent(watched -> held.computeIfAbsent(repair.action(), _ -> new TreeMap<>())
                            .computeIfAbsent(repair.cause().orElse(""), _ -> new ArrayList<>()).add(watched));
                }
            }
        });
        List<Item> items = new ArrayList<>();
        List<List<HoldCurve.Repair>> groups = new ArrayList<>();
        held.forEach((action, byCause) -> {
            List<HoldCurve.Repair> pooled = byCause.values().stream().flatMap(List::stream).toList();
            groups.add(pooled);
            items.add(item(action, Optional.empty(), pooled));
            byCause.forEach((cause, repairs) -> {
                if (!cause.isEmpty()) {
                    items.add(item(action, Optional.of(cause), repairs));
                }
            });
        });
        return new Holds(List.copyOf(items), List.copyOf(held.keySet()), HoldComparison.of(groups));
    }

    private static Item item(String action, Optional<String> cause, List<HoldCurve.Repair> repairs) {
        int returned = (int) repairs.stream().filter(HoldCurve.Repair::returned).count();
        return new Item(action, cause, repairs.size(), returned, HoldCurve.of(repairs, CONFIDENCE),
                repairs.stream().map(HoldCurve.Repair::held).sorted().toList());
    }

    private static Optional<HoldCurve.Repair> watched(Mended repair, Instant end, Measure measure, Optional<LifeLine> line) {
        Optional<Instant> episode = repair.nextEpisodeAt().filter(at -> !at.isAfter(end));
        Optional<Instant> preventive = repair.nextRepairAt().filter(at -> !at.isAfter(end))
                .filter(at -> episode.isEmpty() || at.isBefore(episode.get()));
        if (preventive.isPresent()) {
            return held(repair, preventive.get(), metered(measure, repair.kmToRepair(), repair.engineHoursToRepair()), line, false);
        }
        return episode.isPresent()
                ? held(repair, episode.get(), metered(measure, repair.kmToEpisode(), repair.engineHoursToEpisode()), line, true)
                : held(repair, end, readSince(repair, end, measure, line), line, false);
    }

    /** From the meter as the repair's visit read it: a unit that stands in the shop covers nothing until its release. */
    private static OptionalDouble readSince(Mended repair, Instant end, Measure measure, Optional<LifeLine> line) {
        OptionalDouble read = metered(measure, repair.kmAt(), repair.engineHoursAt());
        return read.isPresent() && line.isPresent() ? line.get().since(read.getAsDouble(), end) : OptionalDouble.empty();
    }

    private static OptionalDouble metered(Measure measure, OptionalDouble km, OptionalDouble engineHours) {
        return switch (measure) {
            case KM -> km;
            case ENGINE_HOURS -> engineHours;
            case DAYS -> OptionalDouble.empty();
        };
    }

    /** As metered, else along the unit's line; empty where that measure of the unit is not known at all. */
    private static Optional<HoldCurve.Repair> held(Mended repair, Instant until, OptionalDouble metered, Optional<LifeLine> line, boolean returned) {
        Optional<Double> held = metered.isPresent() ? Optional.of(metered.getAsDouble()) : line.map(known -> known.between(repair.at(), until));
        return held.map(amount -> new HoldCurve.Repair(Math.max(0, amount), returned));
    }
}
