package comebackledger.briefing;

import comebackledger.trail.Clock;
import comebackledger.trail.Trail;
import comebackledger.unit.Network;
import comebackledger.visit.BusCheck;
import comebackledger.visit.Place;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What nobody told or measured, and what it would sharpen. */
final class Unknowns {
    private final Case about;
    private final List<String> sentences = new ArrayList<>();

    Unknowns(Case about) {
        this.about = about;
    }

    List<String> sentences() {
        age();
        about.view().trails().stream().filter(trail -> trail.state() == Trail.State.REPAIRED_UNPROVEN)
                .forEach(trail -> sentences.add("Whether the repair at " + trail.place() + " holds: no passing test has proved it."));
        if (about.unit().build().networks().isEmpty()) {
            sentences.add("The networks of this build: terminators, modules and lengths are assumed, so places are wider.");
        }
        about.openSystems().forEach(this::system);
        return List.copyOf(sentences);
    }

    private void age() {
        about.view().state().lastVisit()
                .filter(last -> Clock.passed(Clock.limit(last.arrivedAt(), about.policy().evidenceMaxAgeDays()), about.view().at()))
                .ifPresent(last -> sentences.add("What happened since " + last.visit() + " on " + PastRepairs.day(last.arrivedAt())
                        + ": it is older than this fleet's evidence may be."));
        if (!about.visits().isEmpty() && about.view().meters().km().lastAt().isEmpty()) {
            sentences.add("The distance covered: no visit read the odometer.");
        }
    }

    private void system(String system) {
        if (system.equals(Place.CHARGE_AIR)) {
            chargeAir();
        } else if (!system.equals(Place.SUPPLY.system())) {
            network(system.substring(Place.network("").length()));
        }
    }

    private void network(String name) {
        Optional<Network> network = about.unit().build().network(name);
        if (network.isEmpty() && about.unit().build().networks().isPresent()) {
            sentences.add("The network " + name + ": the build does not name it.");
        }
        network.filter(known -> known.nodes().isEmpty())
                .ifPresent(_ -> sentences.add("Which modules are on " + name + ", and in which order: a silent one cannot be placed."));
        network.filter(known -> known.trunkMetres().isEmpty()).ifPresent(_ -> sentences.add("How long the trunk of " + name + " is."));
        List<BusCheck> checks = about.visitsSinceOpened(Place.network(name)).stream().flatMap(visit -> visit.busChecks().stream())
                .filter(check -> check.network().equals(name)).toList();
        if (checks.stream().noneMatch(check -> check.rollCall().isPresent())) {
            sentences.add("Who answers on " + name + ": no roll call was made since the fault opened.");
        }
        if (checks.stream().noneMatch(check -> check.readings().hasResistance())) {
            sentences.add("What " + name + " measures: no resistance was read since the fault opened.");
        }
    }

    private void chargeAir() {
        if (about.unit().build().engine().isEmpty() || about.unit().build().chargeAir().flatMap(air -> air.ratedBoost()).isEmpty()) {
            sentences.add("What share of the engine's air a leak costs: the build tells no engine, or no rated boost.");
        }
        if (about.unit().build().chargeAir().flatMap(air -> air.maxTestPressure()).isEmpty()) {
            sentences.add("The highest test pressure of this build: read it in the maker's service information before any test with shop air.");
        }
        if (about.unit().build().chargeAir().flatMap(air -> air.spots()).isEmpty()) {
            sentences.add("The spots this charge air can leak at: the build names none.");
        }
    }
}
