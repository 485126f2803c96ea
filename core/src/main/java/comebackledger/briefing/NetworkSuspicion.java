package comebackledger.briefing;

import comebackledger.bus.BusVerdict;
import comebackledger.bus.CheckPolicy;
import comebackledger.bus.FaultKind;
import comebackledger.bus.TestKind;
import comebackledger.judge.BusJudge;
import comebackledger.judge.Circuits;
import comebackledger.visit.BusCheck;
import comebackledger.visit.Place;
import comebackledger.visit.RepairAction;
import comebackledger.visit.Visit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The suspects of a network: its latest failing check, or what tells most, judged again with the repairs of its history. */
final class NetworkSuspicion {
    private static final String CONNECTOR = "connector";
    /** How often a weak supply shows under load, and how often a sound one seems to (common practice, no source). */
    private static final double WEAK_SHOWS = 0.95;
    private static final double SOUND_SHOWS = 0.03;
    /** How often a part's own test shows its fault, and how often it seems to on a sound part (common practice, no source). */
    private static final double SHOWS = 0.95;
    private static final double SEEMS = 0.05;

    private final Case about;
    private final PastRepairs repairs;

    NetworkSuspicion(Case about, PastRepairs repairs) {
        this.about = about;
        this.repairs = repairs;
    }

    private CheckPolicy policy() {
        return Circuits.policy(about.policy());
    }

    /** What a visit said. */
    private record Said(String visit, BusJudge.Retold retold) {}

    Suspicion of(String system) {
        String network = system.substring(Place.network("").length());
        List<Visit> newestFirst = about.telling(system);
        Optional<Said> said = telling(network, newestFirst).map(found -> together(network, newestFirst, found));
        return said.map(found -> new Suspicion(suspects(system, found), tests(system, found.retold().verdict())))
                .orElseGet(() -> new Suspicion(List.of(), routine(network)));
    }

    /** The newest visit that fails; else the newest that measured; else the newest with codes. */
    private Optional<Said> telling(String network, List<Visit> newestFirst) {
        Optional<Said> measured = Optional.empty();
        Optional<Said> coded = Optional.empty();
        for (Visit visit : newestFirst) {
            Optional<Said> said = said(network, visit);
            if (said.filter(found -> found.retold().fails()).isPresent()) {
                return said;
            }
            measured = measured.or(() -> said.filter(found -> !found.retold().byCodesAlone()));
            coded = coded.or(() -> said);
        }
        return measured.isPresent() ? measured : coded;
    }

    private Optional<Said> said(String network, Visit visit) {
        return BusJudge.again(about.unit(), visit, network, repairs.of(Place.network(network)), about.policy())
                .map(retold -> new Said(visit.id(), retold));
    }

    /**
     * What was read, called and reported in several visits on one fault, between which nothing of the network was done, is one body of evidence: the newest
     * of each reading and each module called counts, and the newest codes.
     */
    private Said together(String network, List<Visit> newestFirst, Said newest) {
        List<Visit> joined = newestFirst.stream().dropWhile(visit -> !visit.id().equals(newest.visit()))
                .takeWhile(visit -> isOneWith(network, visit)).toList();
        if (joined.size() < 2) {
            return newest;
        }
        Visit head = joined.getFirst();
        Visit coded = joined.stream().filter(visit -> !visit.codes().isEmpty() || !visit.captures().isEmpty()).findFirst().orElse(head);
        List<BusCheck> checks = joined.reversed().stream().flatMap(visit -> visit.busChecks().stream()).toList();
        return said(network, new Visit(head.id(), head.arrivedAt(), head.releasedAt(), false, head.meters(), head.complaint(), coded.codes(),
                coded.captures(), head.codesCleared(), head.lamps(), head.lampsAtRelease(), head.shop(), checks, List.of(), List.of(),
                head.outOfService(), head.driverReport(), head.note())).orElse(newest);
    }

    /** A supply under its limit would silence the evidence of the other visits too. */
    private boolean isOneWith(String network, Visit visit) {
        boolean repaired = visit.repairs().stream().filter(repair -> repair.action() != RepairAction.NONE)
                .anyMatch(repair -> Place.parse(repair.place()).filter(place -> place.system().equals(Place.network(network))).isPresent());
        return !repaired && !BusJudge.supplyLow(about.unit(), visit, about.policy());
    }

    private List<Briefing.Suspect> suspects(String system, Said said) {
        List<Briefing.Suspect> suspects = new ArrayList<>();
        for (BusVerdict.Suspect suspect : said.retold().verdict().suspects()) {
            Optional<String> place = suspect.part().map(part -> system + "." + part);
            suspects.add(new Briefing.Suspect(system, suspect.fault().word(), place, suspect.probability(),
                    suspect.why() + place.map(repairs::told).orElse(""), said.visit(), Optional.of(suspect)));
        }
        return suspects;
    }

    private List<Briefing.NextTest> tests(String system, BusVerdict verdict) {
        List<BusVerdict.NextTest> tests = verdict.nextTests().isEmpty() ? confirmed(verdict).stream().toList() : verdict.nextTests();
        return tests.isEmpty()
                ? routine(system.substring(Place.network("").length()))
                : tests.stream().map(test -> test(system, test)).toList();
    }

    /** Where one faulty part is as good as certain no test tells suspects apart any more, and what is left is the part's own test. */
    private Optional<BusVerdict.NextTest> confirmed(BusVerdict verdict) {
        return verdict.suspects().stream().filter(suspect -> suspect.part().isPresent()).findFirst()
                .map(suspect -> BusVerdict.NextTest.telling(suspect.fault(), suspect.part(), Information.bits(suspect.probability(), SHOWS, SEEMS),
                        policy()));
    }

    static Briefing.NextTest test(String system, BusVerdict.NextTest test) {
        Optional<String> part = test.at().or(() -> test.test().word().endsWith("at-connector") ? Optional.of(CONNECTOR) : Optional.empty());
        return new Briefing.NextTest(system, test.test().word(), Optional.of(part.map(name -> system + "." + name).orElse(system)), test.minutes(),
                test.gainBits(), test.why(), test.cautions());
    }

    /** The two readings that come first on a network nobody doubts; the gain is of a check in which nothing was read yet. */
    List<Briefing.NextTest> routine(String network) {
        String system = Place.network(network);
        List<BusVerdict.NextTest> best = BusJudge.unmeasured(about.unit(), network, repairs.of(system), about.policy()).nextTests();
        return List.of(TestKind.HIGH_LOW_AT_CONNECTOR, TestKind.ROLL_CALL).stream()
                .map(kind -> best.stream().filter(test -> test.test() == kind).findFirst()
                        .orElseGet(() -> BusVerdict.NextTest.of(kind, Optional.empty(), 0, policy())))
                .map(test -> test(system, test)).toList();
    }

    /** The supply of the vehicle was under its limit: everything else waits for it. */
    Suspicion ofSupply() {
        String system = Place.SUPPLY.system();
        for (Visit visit : about.visitsSinceOpened(system)) {
            Optional<String> network = visit.busChecks().reversed().stream().filter(check -> check.readings().supplyVoltage().isPresent())
                    .map(check -> check.network()).findFirst();
            Optional<BusVerdict> verdict = network.flatMap(name -> BusJudge.again(about.unit(), visit, name, List.of(), about.policy()))
                    .map(BusJudge.Retold::verdict);
            if (network.isPresent()) {
                double low = verdict.map(NetworkSuspicion::supplyLow).filter(odds -> odds > 0).orElse(WEAK_SHOWS);
                return supply(visit.id(), low);
            }
        }
        return Suspicion.NONE;
    }

    private static double supplyLow(BusVerdict verdict) {
        return verdict.suspects().stream().filter(suspect -> suspect.fault() == FaultKind.SUPPLY_LOW).mapToDouble(BusVerdict.Suspect::probability)
                .sum();
    }

    private Suspicion supply(String visit, double low) {
        String place = Place.SUPPLY.toString();
        Briefing.Suspect weak = new Briefing.Suspect(Place.SUPPLY.system(), FaultKind.SUPPLY_LOW.word(), Optional.of(place), low,
                "The supply was under its limit: roll calls, voltages and communication codes of that visit say nothing until it is sound.", visit,
                Optional.empty());
        Briefing.Suspect other = new Briefing.Suspect(Place.SUPPLY.system(), FaultKind.OTHER.word(), Optional.empty(), 1 - low,
                "A bad probe, or a load that was on at that moment.", visit, Optional.empty());
        BusVerdict.NextTest drop = BusVerdict.NextTest.of(TestKind.SUPPLY_DROP, Optional.empty(), Information.bits(low, WEAK_SHOWS, SOUND_SHOWS),
                policy());
        return new Suspicion(List.of(weak, other),
                List.of(new Briefing.NextTest(Place.SUPPLY.system(), drop.test().word(), Optional.of(place), drop.minutes(),
                        drop.gainBits(), drop.why() + " Charge or support the batteries, then measure under load.", drop.cautions())));
    }
}
