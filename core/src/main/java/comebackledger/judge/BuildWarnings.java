package comebackledger.judge;

import comebackledger.unit.Build;
import comebackledger.unit.Network;
import comebackledger.unit.Unit;
import comebackledger.visit.BusCheck;
import comebackledger.visit.ChargeAirTest;
import comebackledger.visit.Place;
import comebackledger.visit.RollCall;
import comebackledger.visit.Stage;
import comebackledger.visit.Visit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Names in a visit that the build's lists lack, and as-left tests of visits in which nothing was repaired. Without a list nothing contradicts it. */
final class BuildWarnings {
    private static final Set<String> PARTS_OF_EVERY_NETWORK = Set.of("trunk", "terminator-a", "terminator-b", "connector");

    private final Build build;
    private final List<Warning> warnings = new ArrayList<>();

    private BuildWarnings(Build build) {
        this.build = build;
    }

    static List<Warning> of(Unit unit, Visit visit) {
        BuildWarnings collected = new BuildWarnings(unit.build());
        collected.stages(visit);
        for (int i = 0; i < visit.busChecks().size(); i++) {
            collected.busCheck(visit.busChecks().get(i), "/busChecks/" + i);
        }
        for (int i = 0; i < visit.codes().size(); i++) {
            int at = i;
            visit.codes().get(i).network().ifPresent(name -> collected.network(name, "/codes/" + at + "/network"));
            visit.codes().get(i).reportedBy().ifPresent(module -> collected.anyModule(module, "/codes/" + at + "/reportedBy"));
        }
        for (int i = 0; i < visit.captures().size(); i++) {
            int at = i;
            visit.captures().get(i).network().ifPresent(name -> collected.network(name, "/captures/" + at + "/network"));
        }
        for (int i = 0; i < visit.chargeAirTests().size(); i++) {
            List<String> spots = visit.chargeAirTests().get(i).leaksAt().orElse(List.of());
            for (int j = 0; j < spots.size(); j++) {
                collected.spot(spots.get(j), "/chargeAirTests/" + i + "/leaksAt/" + j);
            }
        }
        for (int i = 0; i < visit.repairs().size(); i++) {
            collected.repair(visit.repairs().get(i).place(), "/repairs/" + i + "/place");
        }
        return collected.warnings;
    }

    private void warn(String pointer, String detail) {
        warnings.add(new Warning(pointer, detail));
    }

    private void stages(Visit visit) {
        if (VisitJudge.repaired(visit)) {
            return;
        }
        for (int i = 0; i < visit.busChecks().size(); i++) {
            BusCheck check = visit.busChecks().get(i);
            stage(check.stage(), "/busChecks/" + i + "/stage");
        }
        for (int i = 0; i < visit.chargeAirTests().size(); i++) {
            ChargeAirTest test = visit.chargeAirTests().get(i);
            stage(test.stage(), "/chargeAirTests/" + i + "/stage");
        }
    }

    private void stage(Stage stage, String pointer) {
        if (stage == Stage.AS_LEFT) {
            warn(pointer, "The visit tells of no repair, so this as-left test is read as as-found. Add the repair, or send as-found.");
        }
    }

    private void busCheck(BusCheck check, String pointer) {
        if (!network(check.network(), pointer + "/network")) {
            return;
        }
        RollCall call = check.rollCall().orElse(new RollCall(List.of(), List.of()));
        for (int j = 0; j < call.answered().size(); j++) {
            module(check.network(), call.answered().get(j), pointer + "/rollCall/answered/" + j);
        }
        for (int j = 0; j < call.silent().size(); j++) {
            module(check.network(), call.silent().get(j), pointer + "/rollCall/silent/" + j);
        }
    }

    private boolean network(String name, String pointer) {
        if (build.networks().isPresent() && build.network(name).isEmpty()) {
            warn(pointer,
                    "The unit's build names no such network. Kept; only the circuit model goes without it. Check the name, or add it to the build.");
            return false;
        }
        return true;
    }

    private void module(String network, String module, String pointer) {
        Optional<Network> known = build.network(network);
        if (known.flatMap(Network::nodes).isPresent() && known.flatMap(one -> one.node(module)).isEmpty()) {
            warn(pointer,
                    "The build's network names no such module. Kept; only the circuit model goes without it. Check the name, or add it to the build.");
        }
    }

    private void anyModule(String module, String pointer) {
        List<Network> networks = build.networks().orElse(List.of());
        boolean listed = !networks.isEmpty() && networks.stream().allMatch(network -> network.nodes().isPresent());
        if (listed && networks.stream().noneMatch(network -> network.node(module).isPresent())) {
            warn(pointer, "No network of the build names this module. Kept. Check the name, or add it to the build.");
        }
    }

    private void spot(String spot, String pointer) {
        if (build.chargeAir().flatMap(air -> air.spots()).filter(spots -> !spots.contains(spot)).isPresent()) {
            warn(pointer, "The build's charge air names no such spot. Kept with a trail of its own. Check the name, or add it to the build.");
        }
    }

    private void repair(String text, String pointer) {
        Optional<Place> place = Place.parse(text);
        if (place.isEmpty()) {
            warn(pointer,
                    "No trail can hang on this place. Kept. A place is network.<name>.<part>, charge-air.<spot>, or one of these systems alone.");
            return;
        }
        if (place.get().isNetwork()) {
            boolean known = network(place.get().networkName(), pointer);
            String part = place.get().part().orElse("trunk");
            boolean terminator = build.network(place.get().networkName()).flatMap(Network::terminators).orElse(List.of()).stream()
                    .anyMatch(one -> one.name().equals(part));
            if (known && !PARTS_OF_EVERY_NETWORK.contains(part) && !terminator) {
                module(place.get().networkName(), part, pointer);
            }
        } else if (place.get().system().equals(Place.CHARGE_AIR)) {
            place.get().part().filter(part -> !part.equals(Occurrences.UNLOCATED)).ifPresent(part -> spot(part, pointer));
        }
    }
}
