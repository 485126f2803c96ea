package comebackledger.briefing;

import comebackledger.bus.BusVerdict;
import comebackledger.trail.Trail;
import comebackledger.trail.UnitMeters;
import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;

/**
 * What a technician should know of a unit before the first measurement.
 *
 * @param summary the lead, in a sentence
 * @param openTrails the heaviest first
 * @param pastReadings of the suspect systems, of all where none is; the newest 40 points of each
 * @param suspects by system in the order of the trails, then by falling probability; those of one system add up to 1
 * @param nextTests by information per minute, falling; the best of each system with an open fault is among them
 * @param repairsTried those of systems with an open fault first, then the newest first; the first 12
 * @param recentVisits the newest first
 * @param notKnown what would make this sharper, in sentences
 */
public record Briefing(String unit, Instant asOf, String summary, List<Trail> openTrails, List<ReadingSeries> pastReadings, List<Suspect> suspects,
        List<NextTest> nextTests, List<RepairTried> repairsTried, List<RecentVisit> recentVisits, List<String> notKnown) {
    /** A leak, in the place of a fault's word. */
    public static final String LEAK = "leak";

    public Briefing {
        openTrails = List.copyOf(openTrails);
        pastReadings = List.copyOf(pastReadings);
        suspects = List.copyOf(suspects);
        nextTests = List.copyOf(nextTests);
        repairsTried = List.copyOf(repairsTried);
        recentVisits = List.copyOf(recentVisits);
        notKnown = List.copyOf(notKnown);
    }

    /** @param view at the instant; @param visits those that arrived by then, in order, without the withdrawn ones */
    public static Briefing of(Unit unit, UnitView view, List<ShelvedVisit> visits) {
        return new Draft(new Case(unit, view, visits)).briefing();
    }

    /** The first tests, by information per minute; the best of each system is among them, so that no open fault waits for another to be solved. */
    public List<NextTest> firstTests(int most) {
        return firstTests(nextTests, most);
    }

    static List<NextTest> firstTests(List<NextTest> inOrder, int most) {
        List<NextTest> best = inOrder.stream().filter(test -> inOrder.stream().filter(other -> other.system().equals(test.system())).findFirst()
                .filter(first -> first == test).isPresent()).toList();
        List<NextTest> rest = inOrder.stream().filter(test -> best.stream().noneMatch(one -> one == test))
                .limit(Math.max(0, most - best.size())).toList();
        return inOrder.stream().filter(test -> Stream.concat(best.stream(), rest.stream()).anyMatch(one -> one == test)).limit(most).toList();
    }

    /**
     * @param fault a word of the bus room, or {@link #LEAK}
     * @param visit whose evidence was judged again
     * @param onNetwork all that the bus room tells of it; empty in the charge air
     */
    public record Suspect(String system, String fault, Optional<String> place, double probability, String why, String visit,
            Optional<BusVerdict.Suspect> onNetwork) {}

    /** @param test a word of the closed list, or a charge-air method */
    public record NextTest(String system, String test, Optional<String> place, double minutes, double gainBits, String why, List<String> cautions) {
        public NextTest {
            cautions = List.copyOf(cautions);
        }

        double bitsPerMinute() {
            return gainBits / minutes;
        }
    }

    /**
     * @param part free text of the visit
     * @param held from the repair to the fault's return, or to the briefing; empty where it never held: not claimed, not released, refuted at the bench
     * @param returnedBy the visit that saw the fault again
     */
    public record RepairTried(String place, String visit, Instant at, String action, Optional<String> cause, Optional<String> part,
            boolean claimsFixed, Optional<UnitMeters.Since> held, Optional<String> returnedBy, boolean failedAtBench, boolean proven) {}

    /**
     * @param km the life total
     * @param codes as a person writes them
     */
    public record RecentVisit(String visit, Instant arrivedAt, Optional<Instant> releasedAt, OptionalDouble km, Optional<String> complaint,
            Optional<String> note, List<String> codes, List<Done> done) {
        public RecentVisit {
            codes = List.copyOf(codes);
            done = List.copyOf(done);
        }
    }

    /** What was done in a visit. */
    public record Done(String place, String action, Optional<String> cause) {}
}
