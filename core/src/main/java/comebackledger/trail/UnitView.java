package comebackledger.trail;

import comebackledger.policy.Policy;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.stream.Stream;

/**
 * What is true of a unit at an instant: {@code view(state, policy, at)}. The state must hold exactly the visits that arrived by then.
 *
 * <p>Flags that need what the fleet teaches ({@code frequent}) or a trend test are added where that is known.
 */
public final class UnitView {
    private final UnitState state;
    private final Policy policy;
    private final Instant at;
    private final UnitMeters meters;
    private final List<Trail> trails;
    private final List<Flag> ofSystems;
    private final List<Instant> starts;

    private UnitView(UnitState state, Policy policy, Instant at, UnitMeters meters) {
        this.state = state;
        this.policy = policy;
        this.at = at;
        this.meters = meters;
        this.trails = trailsOf(state.trails());
        this.ofSystems = List.of();
        this.starts = List.of();
    }

    private UnitView(UnitView plain, List<Flag> ofSystems, List<Instant> starts) {
        this.state = plain.state;
        this.policy = plain.policy;
        this.at = plain.at;
        this.meters = plain.meters;
        this.trails = plain.trails.stream().map(trail -> trail.with(ofSystems)).toList();
        this.ofSystems = List.copyOf(ofSystems);
        this.starts = List.copyOf(starts);
    }

    public static UnitView of(UnitState state, Policy policy, Instant at) {
        return new UnitView(state, policy, at, new UnitMeters(state));
    }

    /** The same state at another instant, without what the fleet teaches. */
    public UnitView asOf(Instant other) {
        return new UnitView(state, policy, other, meters);
    }

    /**
     * The same view with flags on whole systems: each trail of the system shows them too.
     *
     * @param begins the instants at which such a flag would begin to stand by itself
     */
    public UnitView with(List<Flag> flags, List<Instant> begins) {
        return new UnitView(this, flags, begins);
    }

    public UnitState state() {
        return state;
    }

    public Policy policy() {
        return policy;
    }

    public Instant at() {
        return at;
    }

    public UnitMeters meters() {
        return meters;
    }

    /** By place. */
    public List<Trail> trails() {
        return trails;
    }

    public List<Flag> flags() {
        return Stream.concat(trails.stream().flatMap(trail -> trail.flags().stream()), ofSystems.stream()).distinct().toList();
    }

    /** The instants after {@code at} at which a trail's state or a flag would change by itself. */
    public List<Instant> changes() {
        List<Instant> changes = new ArrayList<>(starts);
        flags().forEach(flag -> flag.expiresAt().ifPresent(limit -> changes.add(Clock.passedFrom(limit))));
        for (TrailState trail : state.trails().values()) {
            for (EpisodeState episode : trail.episodes()) {
                episode.ending().ifPresent(ending -> changes.add(ending.at()));
                if (episode.open() && episode.kind() == EpisodeState.Kind.SUSPECTED) {
                    changes.add(Clock.passedFrom(Clock.limit(episode.lastSignAt(), policy.quietWindow().days())));
                }
            }
            trail.proofs().forEach(proof -> changes.add(proof.at()));
        }
        return changes.stream().filter(instant -> instant.isAfter(at)).sorted().toList();
    }

    private List<Trail> trailsOf(SortedMap<String, TrailState> states) {
        List<Trail> found = new ArrayList<>();
        for (TrailState trail : states.values()) {
            if (!trail.episodes().isEmpty() || trail.repairs().stream().anyMatch(repair -> repair.holds() && !repair.at().isAfter(at))) {
                found.add(trailOf(trail));
            }
        }
        return List.copyOf(found);
    }

    private Trail trailOf(TrailState trail) {
        List<Episode> episodes = trail.episodes().stream().map(episode -> episodeOf(trail, episode)).toList();
        List<Trail.Repaired> repairs = trail.repairs().stream()
                .map(repair -> new Trail.Repaired(repair.visit(), repair.at(), repair.action(), repair.cause(), repair.claimsFixed(),
                        repair.closedEpisode(),
                        repair.holds()))
                .toList();
        List<Trail.Proof> proofs = trail.proofs().stream().filter(proof -> !proof.at().isAfter(at))
                .map(proof -> new Trail.Proof(proof.visit(), proof.at(), proof.evidence())).toList();
        Trail.State now = stateOf(trail);
        return new Trail(trail.place(), now, episodes, repairs, proofs, flagsOf(trail, episodes, now));
    }

    private Episode episodeOf(TrailState trail, EpisodeState episode) {
        Optional<EpisodeState.Ending> ending = endingBy(episode);
        boolean counts = episode.kind() != EpisodeState.Kind.NO_FAULT_FOUND;
        Optional<RepairState> own = counts ? latest(trail.repairs(), episode) : Optional.empty();
        Optional<RepairState> elsewhere = counts
                ? elsewhere(trail, episode)
                        .filter(repair -> own.isEmpty() || repair.at().isAfter(own.get().at()))
                : Optional.empty();
        boolean comeback = own.filter(repair -> since(repair, episode).inside(policy.repeatWindow())).isPresent();
        boolean moving = elsewhere.filter(repair -> since(repair, episode).inside(policy.repeatWindow())).isPresent();
        Optional<RepairState> after = comeback || !moving ? own : elsewhere;
        return new Episode(episode.openedBy(), episode.openedAt(), ending.map(EpisodeState.Ending::at), ending.flatMap(EpisodeState.Ending::by),
                episode.kind() == EpisodeState.Kind.CONFIRMED, !counts, comeback, moving, after.map(repair -> since(repair, episode)),
                after.map(RepairState::visit), moving ? elsewhere.map(RepairState::visit) : Optional.empty(), episode.accusedPlaces(),
                episode.failedAtBench());
    }

    /** The ending as known at the instant; a suspicion without a sign for the quiet window has ended by waiting. */
    private Optional<EpisodeState.Ending> endingBy(EpisodeState episode) {
        if (!episode.openAt(at)) {
            return episode.ending();
        }
        Instant limit = Clock.limit(episode.lastSignAt(), policy.quietWindow().days());
        return episode.kind() == EpisodeState.Kind.SUSPECTED && Clock.passed(limit, at)
                ? Optional.of(new EpisodeState.Ending(EpisodeState.How.WAITED, limit, Optional.empty()))
                : Optional.empty();
    }

    private UnitMeters.Since since(RepairState repair, EpisodeState episode) {
        return meters.between(repair.visit(), repair.at(), episode.openedBy(), episode.openedAt());
    }

    private static Optional<RepairState> latest(List<RepairState> repairs, EpisodeState episode) {
        return repairs.stream().filter(repair -> repair.holds() && episode.openedAfter(repair.visit(), repair.at()))
                .max(Comparator.comparing(RepairState::at));
    }

    private Optional<RepairState> elsewhere(TrailState trail, EpisodeState episode) {
        return state.trails().values().stream()
                .filter(other -> !other.place().equals(trail.place()) && other.place().system().equals(trail.place().system()))
                .flatMap(other -> other.repairs().stream()).filter(repair -> repair.holds() && repair.closedEpisode()
                        && episode.openedAfter(repair.visit(), repair.at()))
                .max(Comparator.comparing(RepairState::at).thenComparing(RepairState::visit));
    }

    private Trail.State stateOf(TrailState trail) {
        Optional<EpisodeState> last = trail.episodes().stream().filter(episode -> episode.kind() != EpisodeState.Kind.NO_FAULT_FOUND)
                .reduce((_, later) -> later);
        if (last.isPresent() && endingBy(last.get()).isEmpty()) {
            return last.get().kind() == EpisodeState.Kind.CONFIRMED ? Trail.State.OPEN : Trail.State.SUSPECTED;
        }
        Optional<TrailStanding.Claim> repair = TrailStanding.latestRepair(trail, at);
        Optional<Instant> ended = last.flatMap(this::endingBy).map(EpisodeState.Ending::at);
        if (repair.isPresent() && ended.filter(end -> end.isAfter(repair.get().at())).isEmpty()) {
            return proofSince(trail, repair.get().at()).isPresent() ? Trail.State.PROVEN : Trail.State.REPAIRED_UNPROVEN;
        }
        return last.isPresent() ? Trail.State.QUIET : Trail.State.NO_FAULT_FOUND;
    }

    private Optional<Instant> proofSince(TrailState trail, Instant repairedAt) {
        return trail.proofs().stream().map(ProofState::at).filter(proof -> !proof.isBefore(repairedAt) && !proof.isAfter(at)).findFirst();
    }

    // Flags.

    private List<Flag> flagsOf(TrailState trail, List<Episode> episodes, Trail.State now) {
        List<Flag> flags = new ArrayList<>();
        for (int i = 0; i < episodes.size(); i++) {
            Episode episode = episodes.get(i);
            Optional<Stand> stand = episode.isReturn() ? returnStands(trail, trail.episodes().get(i)) : Optional.empty();
            if (stand.isPresent() && episode.comeback()) {
                flags.add(returned(Flag.Kind.COMEBACK, trail, episode, episode.after().orElse(""), stand.get()));
            }
            if (stand.isPresent() && episode.moving()) {
                flags.add(returned(Flag.Kind.MOVING, trail, episode, episode.movedFrom().orElse(""), stand.get()));
            }
        }
        if (now == Trail.State.REPAIRED_UNPROVEN) {
            unproven(trail).ifPresent(flags::add);
        }
        noFaultFound(trail).ifPresent(flags::add);
        return List.copyOf(flags);
    }

    /** @param until the last instant it stands; empty where only evidence can end it */
    private record Stand(Optional<Instant> until) {}

    /** While open; then until the later of its proof and the end of the window that its closing repair started. */
    private Optional<Stand> returnStands(TrailState trail, EpisodeState episode) {
        Optional<EpisodeState.Ending> ending = endingBy(episode);
        if (ending.isEmpty()) {
            return Optional.of(new Stand(Optional.empty()));
        }
        if (ending.get().how() != EpisodeState.How.REPAIRED) {
            return Optional.empty();
        }
        Optional<Instant> proof = proofSince(trail, ending.get().at());
        if (proof.isEmpty()) {
            return supersededBy(trail, episode) ? Optional.empty() : Optional.of(new Stand(Optional.empty()));
        }
        if (Clock.passed(proof.get(), at) && Clock.passed(Clock.limit(ending.get().at(), policy.repeatWindow().days()), at)) {
            return Optional.empty(); // no meter keeps a window open beyond its days
        }
        Instant window = Clock.end(state, meters, ending.get().by().orElse(""), ending.get().at(), policy.repeatWindow());
        Instant until = window.isBefore(proof.get()) ? proof.get() : window;
        return Clock.passed(until, at) ? Optional.empty() : Optional.of(new Stand(Optional.of(until)));
    }

    /** A later episode of the same trail shows that the repair did not hold: no proof of it can come any more. */
    private static boolean supersededBy(TrailState trail, EpisodeState episode) {
        return trail.episodes().stream()
                .anyMatch(other -> other.kind() != EpisodeState.Kind.NO_FAULT_FOUND && other.openedAt().isAfter(episode.openedAt()));
    }

    private static Flag returned(Flag.Kind kind, TrailState trail, Episode episode, String repairVisit, Stand stand) {
        String days = episode.sinceRepair().map(since -> Words.days(since.days())).orElse("");
        String detail = kind == Flag.Kind.COMEBACK
                ? "Came back " + days + " after the claimed repair of " + repairVisit + "."
                : "Opened here after the claimed repair of " + repairVisit + " elsewhere in the same system.";
        return new Flag(kind, trail.place().toString(), episode.openedAt(), stand.until(), List.of(repairVisit, episode.openedBy()), detail);
    }

    private Optional<Flag> unproven(TrailState trail) {
        TrailStanding.Claim claim = TrailStanding.latestRepair(trail, at).orElseThrow();
        if (Clock.passed(Clock.limit(claim.at(), policy.repeatWindow().days()), at)) {
            return Optional.empty(); // no meter keeps a window open beyond its days
        }
        Instant until = Clock.end(state, meters, claim.visit(), claim.at(), policy.repeatWindow());
        return Clock.passed(until, at)
                ? Optional.empty()
                : Optional.of(new Flag(Flag.Kind.UNPROVEN_FIX, trail.place().toString(), claim.at(), Optional.of(until), List.of(claim.visit()),
                        "Repaired in " + claim.visit() + ", and no passing test since has repeated the evidence."));
    }

    private Optional<Flag> noFaultFound(TrailState trail) {
        List<EpisodeState> all = trail.episodes().stream().filter(episode -> episode.kind() == EpisodeState.Kind.NO_FAULT_FOUND).toList();
        List<EpisodeState> recent = all.stream().filter(episode -> !Clock.passed(noFaultFoundLimit(episode), at)).toList();
        if (recent.size() < 2) {
            return Optional.empty();
        }
        // The start of the unbroken time for which two were near enough to each other.
        int second = all.size() - 1;
        while (second >= 2 && !Clock.passed(noFaultFoundLimit(all.get(second - 2)), all.get(second).openedAt())) {
            second--;
        }
        return Optional.of(new Flag(Flag.Kind.NO_FAULT_FOUND, trail.place().toString(), all.get(second).openedAt(),
                Optional.of(noFaultFoundLimit(recent.get(recent.size() - 2))), recent.stream().map(EpisodeState::openedBy).toList(),
                recent.size() + " visits with codes and no fault found: suspect an intermittent joint."));
    }

    private Instant noFaultFoundLimit(EpisodeState episode) {
        return Clock.limit(episode.openedAt(), policy.noFaultFoundDays());
    }
}
