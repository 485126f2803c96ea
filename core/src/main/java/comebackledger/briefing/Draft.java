package comebackledger.briefing;

import comebackledger.measure.MeterLine;
import comebackledger.trail.Episode;
import comebackledger.trail.Flag;
import comebackledger.trail.Trail;
import comebackledger.trail.UnitMeters;
import comebackledger.trail.Words;
import comebackledger.unit.Network;
import comebackledger.visit.CodeEntry;
import comebackledger.visit.Place;
import comebackledger.visit.RepairAction;
import comebackledger.visit.Visit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Puts one briefing together. */
final class Draft {
    private static final int VISITS = 5;
    private static final int TESTS = 8;
    /** As many as half a sheet can show apart; the series by itself has all. */
    private static final int READINGS = 40;

    private final Case about;
    private final PastRepairs repairs;
    private final NetworkSuspicion networks;
    private final AirSuspicion air;

    Draft(Case about) {
        this.about = about;
        this.repairs = new PastRepairs(about);
        this.networks = new NetworkSuspicion(about, repairs);
        this.air = new AirSuspicion(about, repairs);
    }

    Briefing briefing() {
        List<Trail> open = about.openTrails();
        List<Briefing.Suspect> suspects = new ArrayList<>();
        List<Briefing.NextTest> tests = new ArrayList<>();
        for (String system : suspectSystems()) {
            Suspicion suspicion = suspicion(system);
            suspects.addAll(suspicion.suspects());
            tests.addAll(suspicion.nextTests());
        }
        if (tests.isEmpty()) {
            tests.addAll(routine());
        }
        tests.sort(Comparator.comparingDouble(Briefing.NextTest::bitsPerMinute).reversed());
        return new Briefing(about.unit().id(), about.view().at(), summary(open), open, pastReadings(), suspects,
                Briefing.firstTests(tests, TESTS), repairs.tried(), recentVisits(), new Unknowns(about).sentences());
    }

    /** Those with an open fault, the heaviest first; then those that are watched. */
    private List<String> suspectSystems() {
        return Stream.concat(about.openSystems().stream(), about.watched().keySet().stream()).toList();
    }

    private Suspicion suspicion(String system) {
        if (system.equals(Place.CHARGE_AIR)) {
            return Optional.ofNullable(about.watched().get(system)).map(air::watched).orElseGet(air::open);
        }
        return system.equals(Place.SUPPLY.system()) ? networks.ofSupply() : networks.of(system);
    }

    /** Of every network of the build; where a charge-air repair waits for its proof, what proves it. */
    private List<Briefing.NextTest> routine() {
        List<Briefing.NextTest> tests = new ArrayList<>();
        List<String> names = about.unit().build().networks().map(list -> list.stream().map(Network::name).toList()).orElse(List.of());
        List<String> seen = Stream.concat(about.view().trails().stream().map(trail -> trail.place().system()),
                about.view().state().series().stream().map(point -> point.series().substring(0, point.series().lastIndexOf('.'))))
                .filter(system -> system.startsWith(Place.network(""))).map(system -> system.substring(Place.network("").length())).distinct()
                .sorted()
                .toList();
        for (String network : names.isEmpty() ? seen.isEmpty() ? List.of("unassigned") : seen : names) {
            tests.addAll(networks.routine(network));
        }
        if (about.trails(Place.CHARGE_AIR).stream().anyMatch(trail -> trail.state() == Trail.State.REPAIRED_UNPROVEN)) {
            tests.addAll(air.proof());
        }
        return tests;
    }

    // The lead.

    private String summary(List<Trail> open) {
        if (about.visits().isEmpty()) {
            return "No visit is recorded: nothing is known of this unit. The routine first tests are named below.";
        }
        if (open.isEmpty()) {
            String watched = about.watched().values().stream().map(Draft::watched).collect(Collectors.joining(" "));
            return watched.isEmpty()
                    ? "No fault is open in this ledger. The routine first tests are named below."
                    : "No fault is open, but " + watched;
        }
        Trail first = open.getFirst();
        String more = open.size() == 1 ? "" : " " + (open.size() - 1) + " more " + (open.size() == 2 ? "fault is" : "faults are") + " open.";
        return (first.state() == Trail.State.OPEN ? "Confirmed: " : "Suspected: ") + first.place() + ", open for " + age(first)
                + first.openEpisode().map(Draft::returned).orElse("") + "." + more;
    }

    private static String watched(Flag flag) {
        return flag.kind() == Flag.Kind.NO_FAULT_FOUND ? "at " + flag.place() + ": " + flag.detail() : flag.detail();
    }

    private String age(Trail trail) {
        return Words.days(Math.max(0, MeterLine.daysBetween(Case.openedAt(trail), about.view().at())));
    }

    private static String returned(Episode episode) {
        Optional<String> after = episode.sinceRepair().map(UnitMeters.Since::days).map(Words::days);
        return episode.isReturn()
                ? "; it " + (episode.comeback() ? "came back " : "moved here ") + after.orElse("soon") + " after the repair of "
                        + episode.after().orElse("another visit")
                : "";
    }

    private List<ReadingSeries> pastReadings() {
        List<ReadingSeries> all = ReadingSeries.all(about.view()).stream().map(series -> series.newest(READINGS)).toList();
        List<String> suspect = suspectSystems();
        return suspect.isEmpty()
                ? all
                : suspect.stream().flatMap(system -> all.stream().filter(series -> series.system().equals(system))).toList();
    }

    // Visits.

    private List<Briefing.RecentVisit> recentVisits() {
        return about.visits().reversed().stream().limit(VISITS).map(ShelvedVisit::read).map(this::recent).toList();
    }

    private Briefing.RecentVisit recent(Visit visit) {
        return new Briefing.RecentVisit(visit.id(), visit.arrivedAt(), visit.releasedAt(), about.view().meters().km().at(visit.id()),
                visit.complaint(), visit.note(), visit.codes().stream().map(Draft::label).distinct().toList(),
                visit.repairs().stream().filter(repair -> repair.action() != RepairAction.NONE)
                        .map(repair -> new Briefing.Done(repair.place(), repair.action().word(), repair.cause())).toList());
    }

    private static String label(CodeEntry code) {
        return code.code().orElseGet(() -> "SPN " + code.spn().orElse(0) + " FMI " + code.fmi().orElse(0));
    }
}
