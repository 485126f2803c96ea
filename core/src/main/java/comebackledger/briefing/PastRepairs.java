package comebackledger.briefing;

import comebackledger.bus.CheckPolicy;
import comebackledger.bus.Evidence;
import comebackledger.trail.Episode;
import comebackledger.trail.LastVisit;
import comebackledger.trail.Trail;
import comebackledger.trail.UnitMeters;
import comebackledger.trail.Words;
import comebackledger.visit.Place;
import comebackledger.visit.Repair;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** What was done to a unit, how long each repair held, and whether a test proved it. */
final class PastRepairs {
    /** More is no briefing any more; the trails have them all. */
    private static final int TRIED_AT_MOST = 12;
    /** As many as are told in sentences. */
    private static final int TOLD_AT_MOST = 2;

    private final Case about;
    private final Map<Place, List<Briefing.RepairTried>> known = new HashMap<>();

    PastRepairs(Case about) {
        this.about = about;
    }

    /** Those of systems with an open fault first, then the newest first. */
    List<Briefing.RepairTried> tried() {
        List<String> open = about.openSystems();
        List<Briefing.RepairTried> all = new ArrayList<>();
        about.view().trails().forEach(trail -> all.addAll(of(trail)));
        all.sort(Comparator.comparing((Briefing.RepairTried one) -> open.stream().noneMatch(system -> isIn(system, one.place())))
                .thenComparing(Briefing.RepairTried::at, Comparator.reverseOrder()).thenComparing(Briefing.RepairTried::place));
        return all.stream().limit(TRIED_AT_MOST).map(this::withPart).toList();
    }

    private static boolean isIn(String system, String place) {
        return place.equals(system) || place.startsWith(system + ".");
    }

    private List<Briefing.RepairTried> of(Trail trail) {
        return known.computeIfAbsent(trail.place(), _ -> trail.repairs().stream().filter(repair -> !repair.at().isAfter(about.view().at()))
                .map(repair -> tried(trail, repair)).toList());
    }

    private Briefing.RepairTried tried(Trail trail, Trail.Repaired repair) {
        Optional<Episode> next = trail.episodes().stream().filter(episode -> !episode.noFaultFound() && episode.openedAt().isAfter(repair.at()))
                .findFirst();
        boolean failed = trail.episodes().stream().anyMatch(episode -> episode.failedAtBench().contains(repair.visit()));
        Optional<UnitMeters.Since> held = repair.holds() ? Optional.of(held(repair, next)) : Optional.empty();
        return new Briefing.RepairTried(trail.place().toString(), repair.visit(), repair.at(), repair.action(), repair.cause(),
                Optional.empty(), repair.claimsFixed(), held, repair.holds() ? next.map(Episode::openedBy) : Optional.empty(), failed,
                repair.holds() && isProven(trail, repair, next));
    }

    private UnitMeters.Since held(Trail.Repaired repair, Optional<Episode> next) {
        String last = next.map(Episode::openedBy).or(() -> about.view().state().lastVisit().map(LastVisit::visit)).orElse(repair.visit());
        UnitMeters.Since since = about.view().meters().between(repair.visit(), repair.at(), last,
                next.map(Episode::openedAt).orElse(about.view().at()));
        // No visit since read a meter: what was covered is unknown, not nothing.
        return last.equals(repair.visit()) ? new UnitMeters.Since(since.days(), OptionalDouble.empty(), OptionalDouble.empty()) : since;
    }

    /** A passing test after it, before the fault was seen again. */
    private static boolean isProven(Trail trail, Trail.Repaired repair, Optional<Episode> next) {
        return trail.proofs().stream().anyMatch(proof -> !proof.at().isBefore(repair.at())
                && next.filter(episode -> !proof.at().isBefore(episode.openedAt())).isEmpty());
    }

    /** The part stands in the visit alone. */
    private Briefing.RepairTried withPart(Briefing.RepairTried repair) {
        Optional<String> part = about.visits().stream().filter(visit -> visit.id().equals(repair.visit())).findFirst().map(ShelvedVisit::read)
                .flatMap(visit -> visit.repairs().stream().filter(done -> done.place().equals(repair.place())
                        && done.action().word().equals(repair.action())).map(Repair::part).flatMap(Optional::stream).findFirst());
        return new Briefing.RepairTried(repair.place(), repair.visit(), repair.at(), repair.action(), repair.cause(), part, repair.claimsFixed(),
                repair.held(), repair.returnedBy(), repair.failedAtBench(), repair.proven());
    }

    /** What the bus room weighs: repairs that held a claim, by the part they were at. */
    List<Evidence.PastRepair> of(String system) {
        List<Evidence.PastRepair> history = new ArrayList<>();
        for (Trail trail : about.trails(system)) {
            trail.place().part().ifPresent(part -> of(trail).stream().filter(repair -> repair.held().isPresent())
                    .forEach(repair -> history.add(new Evidence.PastRepair(part, repair.proven()))));
        }
        return history;
    }

    boolean provenAt(String place) {
        return about.view().trails().stream().filter(trail -> trail.place().toString().equals(place)).flatMap(trail -> of(trail).stream())
                .anyMatch(Briefing.RepairTried::proven);
    }

    /** What was done at a place before, in sentences; empty where nothing was. */
    String told(String place) {
        List<Briefing.RepairTried> done = about.view().trails().stream().filter(trail -> trail.place().toString().equals(place))
                .flatMap(trail -> of(trail).stream()).toList();
        int earlier = Math.max(0, done.size() - TOLD_AT_MOST);
        StringBuilder told = new StringBuilder(earlier == 0 ? "" : " Worked on " + earlier + (earlier == 1 ? " time" : " times") + " before.");
        done.subList(earlier, done.size()).forEach(repair -> told.append(' ').append(sentence(repair)));
        return told.toString();
    }

    private static String sentence(Briefing.RepairTried repair) {
        String done = capital(repair.action()) + " in " + repair.visit() + " on " + day(repair.at());
        if (repair.failedAtBench()) {
            return done + ", and the fault was still there in the test after it.";
        }
        if (repair.held().isEmpty()) {
            return done + ", not claimed as fixed.";
        }
        String held = Words.days(repair.held().get().days());
        String proof = repair.proven()
                ? String.format(Locale.ROOT, " A passing test proved it then, so its odds count %.1f times.", CheckPolicy.DEFAULT.provenRepair())
                : " No passing test proved it.";
        return done + (repair.returnedBy().isPresent() ? "; the fault was back after " + held + "." : "; " + held + " ago.") + proof;
    }

    private static String capital(String word) {
        return word.substring(0, 1).toUpperCase(Locale.ROOT) + word.substring(1);
    }

    static String day(Instant at) {
        return at.atZone(ZoneOffset.UTC).toLocalDate().toString();
    }
}
