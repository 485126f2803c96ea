package comebackledger.trail;

import comebackledger.measure.MeterLine;
import comebackledger.policy.Policy;
import comebackledger.unit.Unit;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * The compact row of one unit that fleet answers and the baseline read, in place of its visits. Made under the policy that its episodes were folded
 * under; holds what happened with its instants and life totals, so that any answer can be given for any instant.
 *
 * @param meteredVisits how many visits read a meter
 */
public record UnitSummary(String unit, Optional<String> group, SortedMap<String, String> tags, Optional<Instant> inServiceAt,
        Optional<Instant> retiredAt,
        Optional<Instant> firstVisitAt, Optional<Instant> lastVisitAt, int meteredVisits, Totals km, Totals engineHours, List<Opened> episodes,
        List<Mended> repairs) {

    /**
     * Life totals at a visit; {@code kmPiece} and {@code hoursPiece} tell unbroken stretches apart: totals of different pieces do not subtract.
     */
    public record Metered(Instant at, OptionalDouble km, int kmPiece, OptionalDouble engineHours, int hoursPiece) {}

    /**
     * One episode.
     *
     * @param place system and part
     * @param openedBy the visit
     * @param endedAt empty while open
     */
    public record Opened(String system, String place, String openedBy, Instant openedAt, Optional<Instant> endedAt, boolean confirmed,
            boolean noFaultFound,
            boolean comeback, boolean moving, OptionalDouble kmAt, OptionalDouble engineHoursAt) {
        /** A comeback or a fault that moved. */
        public boolean isReturn() {
            return comeback || moving;
        }
    }

    /**
     * One claimed repair that was not refuted at the bench, and how long it held.
     *
     * @param nextEpisodeAt the next episode on the same place
     * @param nextRepairAt the next claimed repair of that place that closed no episode: it ends the watch without a return
     */
    public record Mended(String system, String place, String visit, Instant at, String action, Optional<String> cause, boolean closedEpisode,
            OptionalDouble kmAt, OptionalDouble engineHoursAt, Optional<Instant> nextEpisodeAt, OptionalDouble kmToEpisode,
            OptionalDouble engineHoursToEpisode, Optional<Instant> nextRepairAt, OptionalDouble kmToRepair, OptionalDouble engineHoursToRepair) {}

    /** @param visits those that read a meter, in order */
    public UnitSummary(String unit, Optional<String> group, SortedMap<String, String> tags, Optional<Instant> inServiceAt,
            Optional<Instant> retiredAt,
            Optional<Instant> firstVisitAt, Optional<Instant> lastVisitAt, List<Metered> visits, List<Opened> episodes, List<Mended> repairs) {
        this(unit, group, tags, inServiceAt, retiredAt, firstVisitAt, lastVisitAt, visits.size(),
                Totals.km(visits, Optional.empty()), Totals.engineHours(visits, Optional.empty()), episodes, repairs);
    }

    public UnitSummary {
        tags = Collections.unmodifiableSortedMap(new TreeMap<>(tags));
        episodes = List.copyOf(episodes);
        repairs = List.copyOf(repairs);
    }

    /** After every instant that evidence can have. */
    public static final Instant THE_END = Instant.parse("2200-01-01T00:00:00Z");

    /** Of a state that holds all of the unit's visits. */
    public static UnitSummary of(Unit unit, UnitState state, Policy policy) {
        return of(unit, UnitView.of(state, policy, THE_END));
    }

    /** Of a view, at whatever instant, whose state holds all of the unit's visits. */
    public static UnitSummary of(Unit unit, UnitView known) {
        UnitView view = known.at().equals(THE_END) ? known : known.asOf(THE_END);
        UnitState state = view.state();
        UnitMeters meters = view.meters();
        List<Opened> episodes = new ArrayList<>();
        List<Mended> repairs = new ArrayList<>();
        for (Trail trail : view.trails()) {
            for (Episode episode : trail.episodes()) {
                episodes.add(opened(trail, episode, meters));
            }
            for (Trail.Repaired repair : trail.repairs()) {
                if (repair.holds()) {
                    repairs.add(mended(trail, repair, meters));
                }
            }
        }
        List<Metered> metered = metered(state, meters);
        return new UnitSummary(unit.id(), unit.group(), unit.tags(), unit.inServiceAt(), unit.retiredAt(), state.firstVisitAt(),
                state.lastVisit().map(LastVisit::arrivedAt), metered.size(), Totals.km(metered, meters.km().end()),
                Totals.engineHours(metered, meters.engineHours().end()), episodes, repairs);
    }

    /**
     * The row after one visit more, where that visit changed no trail and its meters run on from where they were: then whatever was said of the visits
     * before it stands. Empty where the row has to be made of the whole state.
     *
     * @param before what this row was made of
     */
    public Optional<UnitSummary> runOn(UnitState before, UnitState after) {
        Optional<Instant> earlier = before.lastVisit().map(LastVisit::arrivedAt);
        Optional<Instant> later = after.lastVisit().map(LastVisit::arrivedAt);
        // Where visits share an instant, one stands for them, and which one is for the whole to say.
        if (earlier.isEmpty() || later.isEmpty() || !later.get().isAfter(earlier.get()) || !after.trails().equals(before.trails())) {
            return Optional.empty();
        }
        if (after.meters().size() == before.meters().size()) {
            return Optional.of(with(later, meteredVisits, km, engineHours));
        }
        MetersRead read = after.meters().getLast();
        return km.runOn(read.odometer(), UnitMeters.MOST_KM_PER_DAY).flatMap(longer -> engineHours
                .runOn(read.engineHours(), UnitMeters.MOST_HOURS_PER_DAY).map(more -> with(later, meteredVisits + 1, longer, more)));
    }

    private UnitSummary with(Optional<Instant> lastVisit, int metered, Totals kmNow, Totals engineHoursNow) {
        return new UnitSummary(unit, group, tags, inServiceAt, retiredAt, firstVisitAt, lastVisit, metered, kmNow, engineHoursNow, episodes, repairs);
    }

    private static Opened opened(Trail trail, Episode episode, UnitMeters meters) {
        return new Opened(trail.place().system(), trail.place().toString(), episode.openedBy(), episode.openedAt(), episode.closedAt(),
                episode.confirmed(),
                episode.noFaultFound(), episode.comeback(), episode.moving(), meters.km().at(episode.openedBy()),
                meters.engineHours().at(episode.openedBy()));
    }

    private static Mended mended(Trail trail, Trail.Repaired repair, UnitMeters meters) {
        Optional<Episode> next = trail.episodes().stream()
                .filter(episode -> !episode.noFaultFound() && episode.openedAfter(repair.visit(), repair.at()))
                .findFirst();
        Optional<Trail.Repaired> preventive = trail.repairs().stream()
                .filter(other -> other.holds() && !other.closedEpisode() && other.at().isAfter(repair.at())).findFirst();
        return new Mended(trail.place().system(), trail.place().toString(), repair.visit(), repair.at(), repair.action(), repair.cause(),
                repair.closedEpisode(), meters.km().at(repair.visit()), meters.engineHours().at(repair.visit()), next.map(Episode::openedAt),
                between(meters.km(), repair.visit(), next.map(Episode::openedBy)),
                between(meters.engineHours(), repair.visit(), next.map(Episode::openedBy)),
                preventive.map(Trail.Repaired::at), between(meters.km(), repair.visit(), preventive.map(Trail.Repaired::visit)),
                between(meters.engineHours(), repair.visit(), preventive.map(Trail.Repaired::visit)));
    }

    private static OptionalDouble between(MeterLine line, String from, Optional<String> to) {
        return to.isPresent() ? line.between(from, to.get()) : OptionalDouble.empty();
    }

    /** Where visits share an instant, the last of them stands for them. */
    private static List<Metered> metered(UnitState state, UnitMeters meters) {
        MeterLine.Walk km = meters.km().walk();
        MeterLine.Walk hours = meters.engineHours().walk();
        List<MetersRead> read = state.meters();
        List<Metered> found = new ArrayList<>(read.size());
        for (int i = 0; i < read.size(); i++) {
            Instant at = read.get(i).at();
            if (i + 1 < read.size() && read.get(i + 1).at().equals(at)) {
                continue;
            }
            OptionalDouble kmThen = km.to(at, read.get(i).visit()).total();
            OptionalDouble hoursThen = hours.to(at, read.get(i).visit()).total();
            if (kmThen.isPresent() || hoursThen.isPresent()) {
                found.add(new Metered(at, kmThen, km.piece(), hoursThen, hours.piece()));
            }
        }
        return found;
    }
}
