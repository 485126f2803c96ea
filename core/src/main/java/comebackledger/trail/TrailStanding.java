package comebackledger.trail;

import java.time.Instant;
import java.util.Optional;

/** What the latest claimed repair of a trail is, at an instant. */
final class TrailStanding {
    private TrailStanding() {}

    /** The repair that a proof or a repeat window starts from. */
    record Claim(String visit, Instant at) {}

    /** The later of the repair that closed the last repaired episode (it may sit on another trail) and the last own repair that holds. */
    static Optional<Claim> latestRepair(TrailState trail, Instant at) {
        Optional<Claim> closing = trail.episodes().stream().filter(EpisodeState::repaired).map(EpisodeState::ending).flatMap(Optional::stream)
                .filter(ending -> !ending.at().isAfter(at)).map(ending -> new Claim(ending.by().orElse(""), ending.at()))
                .reduce(TrailStanding::later);
        Optional<Claim> own = trail.repairs().stream().filter(repair -> repair.holds() && !repair.at().isAfter(at))
                .map(repair -> new Claim(repair.visit(), repair.at())).reduce(TrailStanding::later);
        return closing.isPresent() && own.isPresent() ? Optional.of(later(closing.get(), own.get())) : closing.or(() -> own);
    }

    private static Claim later(Claim one, Claim other) {
        return other.at().isBefore(one.at()) ? one : other;
    }
}
