package comebackledger.trail;

import comebackledger.measure.MeterLine;
import comebackledger.measure.MeterReading;
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
        this(unit, group, tags, inServiceAt, retiredAt, firstVisitAt, lastVisitAt, visits.size(), Totals.km(visits), Totals.engineHours(visits),
                episodes, repairs);
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
        return new UnitSummary(unit.id(), unit.group(), unit.tags(), unit.inServiceAt(), unit.retiredAt(), state.firstVisitAt(),
                state.lastVisit().map(LastVisit::arrivedAt), metered(state, meters), episodes, repairs);
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

    /** Both meters' readings in one order; where visits share an instant, one stands for them. */
    private static List<Metered> metered(UnitState state, UnitMeters meters) {
        List<MeterReading> odometer = state.odometer();
        List<MeterReading> engineHours = state.engineHours();
        MeterLine.Walk km = meters.km().walk();
        MeterLine.Walk hours = meters.engineHours().walk();
        List<Metered> found = new ArrayList<>(Math.max(odometer.size(), engineHours.size()));
        int i = 0;
        int k = 0;
        while (i < odometer.size() || k < engineHours.size()) {
            boolean hoursNext = i == odometer.size() || k < engineHours.size() && engineHours.get(k).at().isBefore(odometer.get(i).at());
            MeterReading last = hoursNext ? engineHours.get(k) : odometer.get(i);
            Instant at = last.at();
            for (; i < odometer.size() && odometer.get(i).at().equals(at); i++) {
                last = odometer.get(i);
            }
            for (; k < engineHours.size() && engineHours.get(k).at().equals(at); k++) {
                last = engineHours.get(k);
            }
            OptionalDouble kmThen = km.to(at, last.visit()).total();
            OptionalDouble hoursThen = hours.to(at, last.visit()).total();
            if (kmThen.isPresent() || hoursThen.isPresent()) {
                found.add(new Metered(at, kmThen, km.piece(), hoursThen, hours.piece()));
            }
        }
        return found;
    }
}
