package comebackledger.trail;

import comebackledger.judge.Occurrence;
import comebackledger.judge.RepairFact;
import comebackledger.measure.MeterLine;
import comebackledger.policy.Window;
import comebackledger.visit.Place;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.function.Supplier;

/** The trails of a unit while one visit is folded in. */
final class TrailBook {
    private final Changing<TrailState> changing;

    TrailBook(SortedMap<String, TrailState> trails) {
        this.changing = new Changing<>(trails);
    }

    SortedMap<String, TrailState> trails() {
        return changing.kept();
    }

    private Collection<TrailState> all() {
        return changing.entries().values();
    }

    private TrailState trail(Place place) {
        return changing.entries().getOrDefault(place.toString(), TrailState.of(place));
    }

    private void put(TrailState trail) {
        changing.own().put(trail.place().toString(), trail);
    }

    boolean hasOpenSuspicion() {
        for (TrailState trail : all()) {
            int index = trail.openIndex();
            if (index >= 0 && isSuspicion(trail.episodes().get(index))) {
                return true;
            }
        }
        return false;
    }

    private static boolean isSuspicion(EpisodeState episode) {
        return episode.kind() == EpisodeState.Kind.SUSPECTED;
    }

    /** Ends the suspicions whose quiet window was exceeded before or at this visit: in days at the window's end, by a meter at this visit. */
    void endWaiting(Supplier<UnitMeters> meters, String visit, Instant arrivedAt, Window quiet) {
        for (TrailState trail : List.copyOf(all())) {
            int index = trail.openIndex();
            if (index < 0 || !isSuspicion(trail.episodes().get(index))) {
                continue;
            }
            EpisodeState episode = trail.episodes().get(index);
            if (MeterLine.daysBetween(episode.lastSignAt(), arrivedAt) > quiet.days()) {
                Instant end = Clock.limit(episode.lastSignAt(), quiet.days());
                put(trail.with(index, episode.ended(new EpisodeState.Ending(EpisodeState.How.WAITED, end, Optional.empty()))));
            } else if (!meters.get().between(episode.lastSignBy(), episode.lastSignAt(), visit, arrivedAt).inside(quiet)) {
                put(trail.with(index, episode.ended(new EpisodeState.Ending(EpisodeState.How.WAITED, arrivedAt, Optional.of(visit)))));
            }
        }
    }

    /** An occurrence opens an episode on its trail, or extends the open one, or belongs to the one whose repair was not yet released. */
    void see(Occurrence occurrence, String visit, Instant arrivedAt) {
        TrailState trail = trail(occurrence.place());
        if (occurrence.kind() == Occurrence.Kind.NO_FAULT_FOUND) {
            EpisodeState.Ending ending = new EpisodeState.Ending(EpisodeState.How.AT_ONCE, arrivedAt, Optional.of(visit));
            put(trail.with(fresh(occurrence, EpisodeState.Kind.NO_FAULT_FOUND, visit, arrivedAt, Optional.of(ending))));
            return;
        }
        int index = indexFor(trail, arrivedAt);
        if (index >= 0) {
            put(trail.with(index, extended(trail.episodes().get(index), occurrence, visit, arrivedAt)));
        } else {
            EpisodeState.Kind kind = occurrence.confirmed() ? EpisodeState.Kind.CONFIRMED : EpisodeState.Kind.SUSPECTED;
            EpisodeState episode = fresh(occurrence, kind, visit, arrivedAt, Optional.empty());
            put(trail.with(episode));
            endBy(repairsStillToBeReleased(occurrence.place().system(), arrivedAt), occurrence.place());
        }
    }

    /** A claimed repair and the place it names. */
    private record Claimed(Place place, RepairState repair) {}

    /** Claimed repairs of a system in visits that came first and were not yet released at an instant; the first to be released first. */
    private List<Claimed> repairsStillToBeReleased(String system, Instant at) {
        List<Claimed> claimed = new ArrayList<>();
        for (TrailState trail : all()) {
            if (trail.place().system().equals(system)) {
                trail.repairs().stream().filter(repair -> repair.holds() && repair.at().isAfter(at))
                        .forEach(repair -> claimed.add(new Claimed(trail.place(), repair)));
            }
        }
        claimed.sort(Comparator.comparing((Claimed one) -> one.repair().at()).thenComparing(one -> one.repair().visit()));
        return claimed;
    }

    /** What a repair finds open at its release it closes, though the fault came up after its visit did. */
    private void endBy(List<Claimed> claimed, Place place) {
        TrailState trail = trail(place);
        int index = trail.openIndex();
        Optional<Claimed> closing = claimed.stream().filter(one -> closes(one.place(), place, trail.episodes().get(index))).findFirst();
        if (closing.isEmpty()) {
            return;
        }
        RepairState repair = closing.get().repair();
        put(trail.with(index,
                trail.episodes().get(index).ended(new EpisodeState.Ending(EpisodeState.How.REPAIRED, repair.at(), Optional.of(repair.visit())))));
        put(trail(closing.get().place()).closing(repair));
        if (closing.get().place().part().isEmpty() && !trail(place).repairs().contains(repair.closing())) {
            put(trail(place).with(repair.closing()));
        }
    }

    private static int indexFor(TrailState trail, Instant arrivedAt) {
        int open = trail.openIndex();
        if (open >= 0) {
            return open;
        }
        for (int i = trail.episodes().size() - 1; i >= 0; i--) {
            EpisodeState episode = trail.episodes().get(i);
            if (episode.repaired() && episode.ending().orElseThrow().at().isAfter(arrivedAt)) {
                return i;
            }
        }
        return -1;
    }

    private static EpisodeState fresh(Occurrence occurrence, EpisodeState.Kind kind, String visit, Instant at, Optional<EpisodeState.Ending> ending) {
        return new EpisodeState(visit, at, visit, at, kind, occurrence.convictions(), occurrence.inferred(),
                occurrence.accusedPlaces().stream().map(Place::toString).toList(), List.of(), ending);
    }

    private static EpisodeState extended(EpisodeState episode, Occurrence occurrence, String visit, Instant at) {
        EpisodeState.Kind kind = occurrence.confirmed() ? EpisodeState.Kind.CONFIRMED : episode.kind();
        SortedSet<String> convictions = new TreeSet<>(episode.convictions());
        convictions.addAll(occurrence.convictions());
        Set<String> accused = new LinkedHashSet<>(episode.accusedPlaces());
        occurrence.accusedPlaces().forEach(place -> accused.add(place.toString()));
        return new EpisodeState(episode.openedBy(), episode.openedAt(), visit, at, kind, convictions, episode.inferred() && occurrence.inferred(),
                List.copyOf(accused), episode.failedAtBench(), episode.ending());
    }

    /** A repair closes, at its visit's release, what it claims to have fixed; refuted at the bench, it is kept as an attempt. */
    void repair(RepairFact repair, String visit, Instant arrivedAt, Optional<Instant> releasedAt, boolean failsAsLeft) {
        boolean holds = repair.claimsFixed() && releasedAt.isPresent() && !failsAsLeft;
        List<Place> closed = new ArrayList<>();
        if (repair.claimsFixed()) {
            for (TrailState trail : List.copyOf(all())) {
                int index = trail.openIndex();
                if (index < 0 || !closes(repair.place(), trail.place(), trail.episodes().get(index))) {
                    continue;
                }
                EpisodeState episode = trail.episodes().get(index);
                if (holds) {
                    put(trail.with(index, episode.ended(new EpisodeState.Ending(EpisodeState.How.REPAIRED, releasedAt.get(), Optional.of(visit)))));
                    closed.add(trail.place());
                } else if (failsAsLeft) {
                    put(trail.with(index, episode.failedAt(visit)));
                }
            }
        }
        RepairState state = new RepairState(visit, releasedAt.orElse(arrivedAt), repair.action().word(), repair.cause(), repair.claimsFixed(),
                !closed.isEmpty(), holds);
        if (repair.claimsFixed() || changing.entries().containsKey(repair.place().toString())) {
            put(trail(repair.place()).with(state));
        }
        if (repair.place().part().isEmpty()) {
            closed.stream().filter(place -> !place.equals(repair.place())).forEach(place -> put(trail(place).with(state)));
        }
    }

    private static boolean closes(Place repaired, Place place, EpisodeState episode) {
        return repaired.system().equals(place.system()) && (repaired.part().isEmpty() || repaired.equals(place) || episode.inferred());
    }

    /** A passing test ends open episodes as quiet, and proves repairs, where it repeats the kind of evidence that convicted. */
    void pass(PassedTest test, String visit, Instant at) {
        for (TrailState trail : List.copyOf(all())) {
            if (!trail.place().system().equals(test.system())) {
                continue;
            }
            int index = trail.openIndex();
            if (index >= 0) {
                EpisodeState episode = trail.episodes().get(index);
                if (test.repeatsAll(episode.convictions())) {
                    put(trail.with(index, episode.ended(new EpisodeState.Ending(EpisodeState.How.PASSED, at, Optional.of(visit)))));
                }
            } else {
                prove(trail, test, visit, at);
            }
        }
    }

    private void prove(TrailState trail, PassedTest test, String visit, Instant at) {
        Optional<Instant> repairedAt = TrailStanding.latestRepair(trail, at).map(TrailStanding.Claim::at);
        if (repairedAt.isEmpty() || trail.proofs().stream().anyMatch(proof -> !proof.at().isBefore(repairedAt.get()))) {
            return;
        }
        SortedSet<String> convictions = trail.episodes().stream().filter(EpisodeState::repaired).reduce((_, later) -> later)
                .map(EpisodeState::convictions).orElseGet(TreeSet::new);
        if (test.repeatsAll(convictions)) {
            put(trail.with(new ProofState(visit, at, test.evidence())));
        }
    }
}
