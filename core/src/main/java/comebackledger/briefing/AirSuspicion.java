package comebackledger.briefing;

import comebackledger.air.AirCautions;
import comebackledger.air.AirSystem;
import comebackledger.bus.CheckPolicy;
import comebackledger.bus.FaultKind;
import comebackledger.judge.AirJudge;
import comebackledger.trail.Episode;
import comebackledger.trail.Flag;
import comebackledger.trail.Trail;
import comebackledger.unit.ChargeAir;
import comebackledger.visit.AirMethod;
import comebackledger.visit.Place;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/**
 * The suspected spots of the charge air and the tests there.
 * <pre>
 *   P(spot) = P(leak) w / sum of w      w = 1 + leaks seen at that spot before, halved where a repair there was proven (rule of succession)
 * </pre>
 * How often a test finds a leak, and its minutes: common practice, no source.
 */
final class AirSuspicion {
    private static final String UNLOCATED = "unlocated";
    /** That a leak once measured or seen, and not repaired since, is still there. */
    private static final double STILL_THERE = 0.97;
    /** Codes alone, or a repair that nobody proved: nobody knows. */
    private static final double NOBODY_KNOWS = 0.5;
    private static final double SMOKE_SHOWS = 0.8;

    private final Case about;
    private final PastRepairs repairs;
    private final AirSystem system;

    AirSuspicion(Case about, PastRepairs repairs) {
        this.about = about;
        this.repairs = repairs;
        this.system = AirJudge.system(about.unit().build());
    }

    private record Spot(String name, double probability) {
        String place() {
            return Place.of(Place.CHARGE_AIR, name).toString();
        }
    }

    /** The tests in their own words, with minutes and how often each tells a leak, and a sound system for leaking. */
    private enum Method {
        SMOKE(AirMethod.SMOKE, 15, SMOKE_SHOWS, 0.02), HELD_FLOW(AirMethod.HELD_FLOW, 20, 0.95, 0.05), HOLD_DOWN(AirMethod.HOLD_DOWN, 20, 0.9, 0.1);

        private final AirMethod method;
        private final double minutes;
        private final double tells;
        private final double mistakes;

        Method(AirMethod method, double minutes, double tells, double mistakes) {
            this.method = method;
            this.minutes = minutes;
            this.tells = tells;
            this.mistakes = mistakes;
        }
    }

    Suspicion open() {
        List<Trail> open = about.openTrails().stream().filter(trail -> trail.place().system().equals(Place.CHARGE_AIR)).toList();
        boolean confirmed = open.stream().anyMatch(trail -> trail.state() == Trail.State.OPEN);
        double leak = confirmed ? STILL_THERE : NOBODY_KNOWS;
        List<String> seen = open.stream().filter(trail -> trail.state() == Trail.State.OPEN).flatMap(trail -> trail.place().part().stream())
                .filter(part -> !part.equals(UNLOCATED)).toList();
        List<Spot> spots = spots(seen, leak);
        String visit = open.stream().flatMap(trail -> trail.openEpisode().stream()).max(Comparator.comparing(Episode::openedAt))
                .map(Episode::openedBy).orElse("");
        return new Suspicion(suspects(spots, leak, confirmed, !seen.isEmpty(), visit), tests(spots, leak));
    }

    /** Codes came again and again while every test found it tight, or the leak grows toward its limit. */
    Suspicion watched(Flag flag) {
        boolean grows = flag.kind() == Flag.Kind.DRIFTING;
        double leak = grows ? STILL_THERE : NOBODY_KNOWS;
        List<Spot> spots = spots(List.of(), leak);
        String visit = flag.grounds().getLast();
        List<Briefing.Suspect> suspects = new ArrayList<>(ofSpots(spots, leak, visit, this::leakedBefore));
        suspects.add(grows
                ? suspect(FaultKind.NONE_FOUND.word(), Optional.empty(), 1 - leak,
                        "The readings rose by chance, or the test's own set-up leaks more.",
                        visit)
                : suspect(FaultKind.OTHER.word(), Optional.empty(), 1 - leak,
                        "Every test found it tight: the code may come from the turbocharger, its control or the sensor.", visit));
        return new Suspicion(suspects, tests(spots, leak));
    }

    /** What would prove a repair that nobody proved. */
    List<Briefing.NextTest> proof() {
        List<String> repaired = about.trails(Place.CHARGE_AIR).stream().filter(trail -> trail.state() == Trail.State.REPAIRED_UNPROVEN)
                .flatMap(trail -> trail.place().part().stream()).filter(part -> !part.equals(UNLOCATED)).toList();
        return tests(spots(repaired, NOBODY_KNOWS), NOBODY_KNOWS);
    }

    /** @param seen the spots that were seen leaking; where none was, all that the build names */
    private List<Spot> spots(List<String> seen, double leak) {
        List<String> names = seen.isEmpty() ? about.unit().build().chargeAir().flatMap(ChargeAir::spots).orElse(List.of()) : seen;
        double all = names.stream().mapToDouble(this::weight).sum();
        return names.stream().map(name -> new Spot(name, leak * weight(name) / all))
                .sorted(Comparator.comparingDouble(Spot::probability).reversed().thenComparing(Spot::name)).toList();
    }

    private double weight(String spot) {
        return (1 + leaksSeen(spot)) * (repairs.provenAt(Place.of(Place.CHARGE_AIR, spot).toString()) ? CheckPolicy.DEFAULT.provenRepair() : 1);
    }

    private long leaksSeen(String spot) {
        return about.trails(Place.CHARGE_AIR).stream().filter(trail -> trail.place().part().equals(Optional.of(spot)))
                .flatMap(trail -> trail.episodes().stream()).filter(episode -> !episode.noFaultFound()).count();
    }

    private List<Briefing.Suspect> suspects(List<Spot> spots, double leak, boolean confirmed, boolean seen, String visit) {
        List<Briefing.Suspect> suspects = new ArrayList<>(
                ofSpots(spots, leak, visit, spot -> seen ? "Seen leaking in the open fault." : leakedBefore(spot)));
        suspects.add(confirmed
                ? suspect(FaultKind.NONE_FOUND.word(), Optional.empty(), 1 - leak, "The test's own set-up leaked, or the leak is gone.", visit)
                : suspect(FaultKind.OTHER.word(), Optional.empty(), 1 - leak,
                        "No test was made: the code may come from the turbocharger, its control or the sensor.", visit));
        return suspects;
    }

    private List<Briefing.Suspect> ofSpots(List<Spot> spots, double leak, String visit, Function<Spot, String> why) {
        return spots.isEmpty()
                ? List.of(suspect(Briefing.LEAK, Optional.empty(), leak, "Nobody located it, and the build names no spots.", visit))
                : spots.stream().map(spot -> suspect(Briefing.LEAK, Optional.of(spot.place()), spot.probability(),
                        why.apply(spot) + repairs.told(spot.place()), visit)).toList();
    }

    private String leakedBefore(Spot spot) {
        long before = leaksSeen(spot.name());
        return before == 0 ? "A spot of this build; never seen leaking here." : "Seen leaking in " + before + " fault(s) of this unit before.";
    }

    private static Briefing.Suspect suspect(String fault, Optional<String> place, double probability, String why, String visit) {
        return new Briefing.Suspect(Place.CHARGE_AIR, fault, place, probability, why, visit, Optional.empty());
    }

    private List<Briefing.NextTest> tests(List<Spot> spots, double leak) {
        List<Briefing.NextTest> tests = new ArrayList<>();
        Optional<String> at = spots.stream().map(Spot::place).findFirst().or(() -> Optional.of(Place.CHARGE_AIR));
        String where = spots.isEmpty()
                ? "at every joint"
                : "at " + String.join(", ", spots.stream().limit(4).map(Spot::name).toList()) + (spots.size() > 1 ? ", in this order" : "");
        for (Method method : Method.values()) {
            double bits = method == Method.SMOKE && !spots.isEmpty() ? looked(spots, leak) : Information.bits(leak, method.tells, method.mistakes);
            tests.add(new Briefing.NextTest(Place.CHARGE_AIR, method.method.word(), at, method.minutes, bits,
                    why(method) + " Look and listen " + where + ".",
                    AirCautions.before(system, method != Method.SMOKE)));
        }
        return tests;
    }

    private static String why(Method method) {
        return switch (method) {
            case SMOKE -> "Shows where it leaks.";
            case HELD_FLOW -> "Sizes the leak against this build's limit; the same test after the repair is its proof.";
            case HOLD_DOWN -> "Sizes the leak without a flow meter; the temperature must have settled.";
        };
    }

    /** Which spot smokes, or none: a leak elsewhere shows as none. */
    private static double looked(List<Spot> spots, double leak) {
        int n = spots.size();
        double[] probability = new double[n + 1];
        double[][] outcome = new double[n + 1][n + 1];
        for (int i = 0; i < n; i++) {
            probability[i] = spots.get(i).probability();
            outcome[i][i] = SMOKE_SHOWS;
            outcome[i][n] = 1 - SMOKE_SHOWS;
        }
        probability[n] = 1 - leak;
        outcome[n][n] = 1;
        return Information.bits(probability, outcome);
    }
}
