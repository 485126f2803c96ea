package comebackledger.briefing;

import comebackledger.policy.Policy;
import comebackledger.trail.Episode;
import comebackledger.trail.Facts;
import comebackledger.trail.Flag;
import comebackledger.trail.Trail;
import comebackledger.trail.UnitView;
import comebackledger.unit.Network;
import comebackledger.unit.Node;
import comebackledger.unit.Unit;
import comebackledger.visit.Place;
import comebackledger.visit.Visit;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Stream;

/** All that a briefing is made from. */
record Case(Unit unit, UnitView view, List<ShelvedVisit> visits) {
    /** Older visits on the same fault add nothing to what the newer say (common practice, no source). */
    private static final int TELLING_AT_MOST = 30;

    Case {
        visits = List.copyOf(visits);
    }

    Policy policy() {
        return view.policy();
    }

    /** Open and suspected, the heaviest first: what would hold the unit, then what is confirmed, then what came back, then the newest. */
    List<Trail> openTrails() {
        return view.trails().stream().filter(trail -> isOpen(trail.state()))
                .sorted(Comparator.comparing((Trail trail) -> !holds(trail)).thenComparing(trail -> trail.state() != Trail.State.OPEN)
                        .thenComparing(trail -> trail.openEpisode().filter(Episode::isReturn).isEmpty())
                        .thenComparing(Case::openedAt, Comparator.reverseOrder()).thenComparing(Trail::place))
                .toList();
    }

    private static boolean isOpen(Trail.State state) {
        return switch (state) {
            case OPEN, SUSPECTED -> true;
            case REPAIRED_UNPROVEN, PROVEN, QUIET, NO_FAULT_FOUND -> false;
        };
    }

    static Instant openedAt(Trail trail) {
        return trail.openEpisode().map(Episode::openedAt).orElse(Instant.MIN);
    }

    /** In the order of the open trails. */
    List<String> openSystems() {
        return openTrails().stream().map(trail -> trail.place().system()).distinct().toList();
    }

    /**
     * Systems without an open fault that are suspect all the same: visits with codes found nothing again and again, or a reading runs toward its limit.
     * By system, with the flag that says so.
     */
    SortedMap<String, Flag> watched() {
        SortedMap<String, Flag> watched = new TreeMap<>();
        Set<String> open = Set.copyOf(openSystems());
        for (Flag flag : view.flags()) {
            switch (flag.kind()) {
                case NO_FAULT_FOUND -> Place.parse(flag.place()).ifPresent(place -> watched.put(place.system(), flag));
                case DRIFTING -> watched.putIfAbsent(flag.place(), flag);
                case COMEBACK, FREQUENT, ACCELERATING, UNPROVEN_FIX, MOVING -> {
                    // They stand on an open fault, on a repair that waits for its proof, or on a rate: nothing to measure by themselves.
                }
            }
        }
        watched.keySet().removeAll(open);
        return watched;
    }

    /** The visits that speak of a suspect system, the newest first: since its oldest open fault began; else those that its flag rests on. */
    List<Visit> telling(String system) {
        Optional<Flag> flag = Optional.ofNullable(watched().get(system));
        return flag.isPresent()
                ? read(visits.reversed().stream().filter(visit -> flag.get().grounds().contains(visit.id())))
                : visitsSinceOpened(system);
    }

    List<Trail> trails(String system) {
        return view.trails().stream().filter(trail -> trail.place().system().equals(system)).toList();
    }

    /** What readiness may hold the unit for. */
    private boolean holds(Trail trail) {
        Place place = trail.place();
        if (place.system().equals(Place.CHARGE_AIR)) {
            return Facts.of(view.state()).loss()
                    .filter(loss -> loss.shareOfEngineAir() > policy().chargeAir().holdLossShare() && !loss.repairedSince()).isPresent();
        }
        Optional<Network> network = place.isNetwork() ? unit.build().network(place.networkName()) : Optional.empty();
        return network.filter(known -> known.safety() || place.part().flatMap(known::node).filter(Node::safety).isPresent()).isPresent();
    }

    /** The visits since a system's oldest open episode began, the newest first. */
    List<Visit> visitsSinceOpened(String system) {
        Optional<Instant> opened = openTrails().stream().filter(trail -> trail.place().system().equals(system)).map(Case::openedAt)
                .min(Comparator.naturalOrder());
        return opened.map(from -> read(visits.reversed().stream().takeWhile(visit -> !visit.arrivedAt().isBefore(from)))).orElse(List.of());
    }

    private static List<Visit> read(Stream<ShelvedVisit> visits) {
        return visits.limit(TELLING_AT_MOST).map(ShelvedVisit::read).toList();
    }
}
