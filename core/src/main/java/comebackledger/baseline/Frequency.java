package comebackledger.baseline;

import comebackledger.trail.Clock;
import comebackledger.trail.Flag;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeSet;
import org.apache.commons.statistics.distribution.GammaDistribution;

/**
 * The flag {@code frequent}: the posterior probability is at least 0.95 that the unit's episodes on a system come at least twice as often as its peers' on
 * average. Weak figures teach nothing about peers, so they raise no flag.
 */
final class Frequency {
    private static final double TIMES = 2;
    private static final double SURE = 0.95;

    private final UnitSummary unit;
    private final Instant at;
    private final Baseline baseline;

    Frequency(UnitSummary unit, Instant at, Baseline baseline) {
        this.unit = unit;
        this.at = at;
        this.baseline = baseline;
    }

    List<Flag> flags() {
        TreeSet<String> systems = new TreeSet<>();
        unit.episodes().forEach(episode -> systems.add(episode.system()));
        List<Flag> flags = new ArrayList<>();
        systems.forEach(system -> flag(system).ifPresent(flags::add));
        return flags;
    }

    private Optional<Flag> flag(String system) {
        for (Wear measure : Wear.values()) {
            Optional<PeerRate> peer = baseline.lessons(measure).every(system, unit.group()).filter(rate -> rate.level() != PeerRate.Level.WEAK);
            Tale tale = tale(measure, at);
            if (peer.isPresent() && tale.exposure().isPresent()) {
                return flag(system, measure, peer.get(), tale);
            }
        }
        return Optional.empty();
    }

    private Tale tale(Wear measure, Instant instant) {
        return new Tale(unit, instant, measure, baseline.usage(unit.group()));
    }

    private Optional<Flag> flag(String system, Wear measure, PeerRate peer, Tale tale) {
        int events = tale.every().getOrDefault(system, 0);
        double exposure = tale.exposure().orElseThrow();
        double sure = above(peer, events, exposure);
        if (sure < SURE) {
            return Optional.empty();
        }
        List<UnitSummary.Opened> episodes = unit.episodes().stream()
                .filter(episode -> episode.system().equals(system) && !episode.noFaultFound() && !episode.openedAt().isAfter(at))
                .sorted(Comparator.comparing(UnitSummary.Opened::openedAt)).toList();
        String detail = String.format(Locale.ROOT,
                "%d episodes in %s; %.1f %% sure that this is at least twice its peers' mean of one in %s (%s).",
                events, measure.told(exposure), 100 * sure, measure.told(1 / peer.mean()), peer.level().words());
        return Optional
                .of(new Flag(Flag.Kind.FREQUENT, system, since(system, measure, peer, episodes), expires(measure, peer, events, exposure, tale),
                        episodes.stream().map(UnitSummary.Opened::openedBy).distinct().toList(), detail));
    }

    private static double above(PeerRate peer, int events, double exposure) {
        GammaDistribution posterior = peer.prior().posterior(events, exposure);
        return posterior.survivalProbability(TIMES * peer.mean());
    }

    private boolean stood(String system, Wear measure, PeerRate peer, Instant instant, boolean before) {
        Tale tale = tale(measure, before ? instant.minusMillis(1) : instant);
        return tale.exposure().isPresent() && above(peer, tale.every().getOrDefault(system, 0), tale.exposure().getAsDouble()) >= SURE;
    }

    /** The opening from which it has stood without a break, by today's baseline. */
    private Instant since(String system, Wear measure, PeerRate peer, List<UnitSummary.Opened> episodes) {
        Instant since = episodes.getLast().openedAt();
        for (int i = episodes.size() - 2; i >= 0; i--) {
            Instant opened = episodes.get(i).openedAt();
            if (!stood(system, measure, peer, since, true) || !stood(system, measure, peer, opened, false)) {
                break;
            }
            since = opened;
        }
        return since;
    }

    /** The last instant at which it stands if nothing more happens; empty where the unit's usage is not known or it stands still. */
    private Optional<Instant> expires(Wear measure, PeerRate peer, int events, double exposure, Tale tale) {
        OptionalDouble perDay = measure == Wear.DAYS ? OptionalDouble.of(1) : tale.usage().kmPerDay();
        if (perDay.orElse(0) <= 0 || unit.retiredAt().filter(retired -> !retired.isAfter(at)).isPresent()) {
            return Optional.empty();
        }
        double stands = exposure;
        double ends = exposure * 2;
        while (above(peer, events, ends) >= SURE) {
            ends *= 2;
        }
        while (ends - stands > 1e-9 * ends) {
            double middle = (stands + ends) / 2;
            if (above(peer, events, middle) >= SURE) {
                stands = middle;
            } else {
                ends = middle;
            }
        }
        return Optional.of(Clock.limit(at, (stands - exposure) / perDay.getAsDouble()));
    }
}
