package comebackledger.trail;

import comebackledger.visit.Place;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** One place of one unit at an instant: its state, its episodes, repairs and proofs in order, and its flags. */
public record Trail(Place place, State state, List<Episode> episodes, List<Repaired> repairs, List<Proof> proofs, List<Flag> flags) {
    /** Never anything else. */
    public enum State {
        OPEN("open"), REPAIRED_UNPROVEN("repaired-unproven"), PROVEN("proven"), QUIET("quiet"), NO_FAULT_FOUND("no-fault-found"),
        SUSPECTED("suspected");

        private final String word;

        State(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    /**
     * @param closedEpisode it ended an episode; a preventive repair ended none
     * @param holds claimed, released and not refuted at the bench
     */
    public record Repaired(String visit, Instant at, String action, Optional<String> cause, boolean claimsFixed, boolean closedEpisode,
            boolean holds) {}

    public record Proof(String visit, Instant at, List<String> evidence) {}

    Trail with(List<Flag> ofSystems) {
        List<Flag> all = new ArrayList<>(flags);
        ofSystems.stream().filter(flag -> flag.place().equals(place.system())).forEach(all::add);
        return new Trail(place, state, episodes, repairs, proofs, List.copyOf(all));
    }

    /** The episode that is open, if one is. */
    public Optional<Episode> openEpisode() {
        return episodes.stream().filter(Episode::open).reduce((_, later) -> later);
    }
}
