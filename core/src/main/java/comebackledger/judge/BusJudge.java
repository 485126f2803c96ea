package comebackledger.judge;

import comebackledger.bus.BusCheck.Depth;
import comebackledger.bus.BusReadings;
import comebackledger.bus.BusVerdict;
import comebackledger.bus.CheckPolicy;
import comebackledger.bus.Circuit;
import comebackledger.bus.CodeSign;
import comebackledger.bus.DoneTest;
import comebackledger.bus.Evidence;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.policy.Policy;
import comebackledger.unit.Unit;
import comebackledger.visit.BusCheck;
import comebackledger.visit.Place;
import comebackledger.visit.Power;
import comebackledger.visit.RollCall;
import comebackledger.visit.Stage;
import comebackledger.visit.Visit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The bus checks of a visit, judged against the build. Each check gets its own verdict; for the fold, the checks of one network, stage and point are taken
 * together: of each reading, and of each module called, the last listed decides, and readings that say nothing are left out.
 */
public final class BusJudge {
    /** A supply above this, in V, belongs to a 24 V system where the build does not say (common practice, no source). */
    private static final double HIGHEST_OF_12_VOLT_SYSTEMS = 16;

    private final Unit unit;
    private final Visit visit;
    private final List<CodeFact> codes;
    private final BusAnswers.Hashed<CheckPolicy> checks;
    private final CheckPolicy policy;
    private final boolean repaired;
    private final List<Evidence.PastRepair> history;
    private final BusAnswers answers;
    private final List<JudgedTest> tests = new ArrayList<>();
    private final List<BusFact> facts = new ArrayList<>();
    private final List<SupplyFact> supplies;
    private final List<Warning> warnings = new ArrayList<>();

    private BusJudge(Unit unit, Visit visit, List<CodeFact> codes, Policy policy, List<Evidence.PastRepair> history, BusAnswers answers) {
        this.unit = unit;
        this.visit = visit;
        this.codes = codes;
        this.history = List.copyOf(history);
        this.answers = answers;
        this.checks = answers.checks(policy);
        this.policy = checks.value();
        this.repaired = VisitJudge.repaired(visit);
        this.supplies = supplies(visit, unit, policy);
    }

    static BusJudge of(Unit unit, Visit visit, List<CodeFact> codes, Policy policy, BusAnswers answers) {
        BusJudge judge = new BusJudge(unit, visit, codes, policy, List.of(), answers);
        for (int i = 0; i < visit.busChecks().size(); i++) {
            judge.test(visit.busChecks().get(i), "/busChecks/" + i);
        }
        judge.points().forEach(judge::fact);
        return judge;
    }

    /** The same facts, without the tests by themselves. */
    static BusJudge ofFacts(Unit unit, Visit visit, List<CodeFact> codes, Policy policy, BusAnswers answers) {
        BusJudge judge = new BusJudge(unit, visit, codes, policy, List.of(), answers);
        judge.points().forEach(judge::fact);
        return judge;
    }

    private Map<Point, List<Integer>> points() {
        if (visit.busChecks().isEmpty()) {
            return Map.of();
        }
        Map<Point, List<Integer>> points = new LinkedHashMap<>();
        for (int i = 0; i < visit.busChecks().size(); i++) {
            BusCheck check = visit.busChecks().get(i);
            points.computeIfAbsent(new Point(check.network(), stage(check), check.connector(), check.atModule()), _ -> new ArrayList<>()).add(i);
        }
        return points;
    }

    /** Where and when checks were made that count together. */
    private record Point(String network, Stage stage, Optional<String> connector, Optional<String> atModule) {}

    List<JudgedTest> tests() {
        return tests;
    }

    List<BusFact> facts() {
        return List.copyOf(facts);
    }

    List<SupplyFact> supplies() {
        return supplies;
    }

    List<Warning> warnings() {
        return warnings;
    }

    private Stage stage(BusCheck check) {
        return repaired ? check.stage() : Stage.AS_FOUND;
    }

    // The supply.

    private List<SupplyFact> supplies(Visit visit, Unit unit, Policy policy) {
        if (visit.busChecks().isEmpty()) {
            return List.of();
        }
        Map<Stage, SupplyFact> last = new LinkedHashMap<>();
        for (int i = 0; i < visit.busChecks().size(); i++) {
            BusCheck check = visit.busChecks().get(i);
            if (check.readings().supplyVoltage().isPresent()) {
                double volts = check.readings().supplyVoltage().get().si();
                double nominal = unit.build().supplyVolts().orElse(volts > HIGHEST_OF_12_VOLT_SYSTEMS ? 24 : 12);
                boolean low = volts < policy.bus().lowSupplyVoltsPer12() * nominal / 12;
                last.put(stage(check), new SupplyFact(stage(check), volts, low, "/busChecks/" + i + "/supplyVoltage"));
            }
        }
        return List.copyOf(last.values());
    }

    /** Whether the supply was under its limit in any stage of a visit. */
    public static boolean supplyLow(Unit unit, Visit visit, Policy policy) {
        return new BusJudge(unit, visit, List.of(), policy, List.of(), new BusAnswers()).supplies.stream().anyMatch(SupplyFact::low);
    }

    private boolean supplyLow(Stage stage) {
        return !supplies.isEmpty() && supplies.stream().anyMatch(supply -> supply.stage() == stage && supply.low());
    }

    // One check by itself.

    private void test(BusCheck check, String pointer) {
        Evidence evidence = evidence(check.network(), stage(check), check.rollCall(), check.done());
        BusVerdict verdict = judge(check.network(), BusEvidence.readings(check, policy), evidence);
        answers.keep(question(check.network(), BusEvidence.readings(check, policy), evidence, Depth.LIMITS), verdict);
        tests.add(new JudgedTest.Bus(pointer, verdict(verdict.verdict()), Place.network(check.network()), verdict));
        if (check.power().filter(power -> power == Power.ON).isPresent() && check.readings().hasResistance()) {
            warnings.add(new Warning(pointer + "/power",
                    "A powered bus falsifies an ohmmeter: the resistances are kept and say nothing. Wait until the modules sleep, or disconnect the batteries."));
        }
    }

    private BusVerdict judge(String network, BusReadings readings, Evidence evidence) {
        return comebackledger.bus.BusCheck.judge(circuit(unit, network), readings, evidence, policy);
    }

    private BusAnswers.Question question(String network, BusReadings readings, Evidence evidence, Depth depth) {
        BusAnswers.Hashed<Circuit> circuit = unit.build().network(network).map(known -> answers.circuit(known, unit.build().supplyVolts()))
                .orElseGet(() -> BusAnswers.Hashed.of(Circuit.unknown(network)));
        return new BusAnswers.Question(circuit, readings, evidence, checks, depth);
    }

    private static Circuit circuit(Unit unit, String network) {
        return unit.build().network(network).map(known -> Circuits.of(known, unit.build().supplyVolts())).orElseGet(() -> Circuit.unknown(network));
    }

    private static Verdict verdict(BusVerdict.Verdict verdict) {
        return switch (verdict) {
            case WITHIN -> Verdict.WITHIN;
            case OUTSIDE -> Verdict.OUTSIDE;
            case INVALID -> Verdict.INVALID;
        };
    }

    // All checks of one point together.

    /** Suspects name the place of an occurrence, and without a failing check or a code there is none. */
    private void fact(Point point, List<Integer> indexes) {
        MergedChecks merge = merged(point, indexes);
        if (merge.saysNothing()) {
            return;
        }
        BusAnswers.Question question = question(point.network(), merge.readings(point.atModule()), counted(point, merge), Depth.LIMITS);
        BusAnswers.Weighed limits = answers.answer(question);
        List<String> silent = merge.silent();
        boolean suspicious = !codes.isEmpty() || !silent.isEmpty() || limits.verdict() == BusVerdict.Verdict.OUTSIDE;
        List<SuspectFact> suspects = suspicious ? answers.answer(question.at(Depth.SUSPECTS)).suspects() : List.of();
        double leads = merge.leadOhm().orElse(policy.leadOhm());
        OptionalDouble highLow = point.atModule().isPresent() ? OptionalDouble.empty() : comparable(merge.highLow(), leads);
        facts.add(new BusFact(point.network(), point.stage(), List.copyOf(merge.pointers()), verdict(limits.verdict()), merge.names(),
                merge.answered(), silent, suspects, highLow, limit(limits.expectedHighLowOhm().low(), leads),
                limit(limits.expectedHighLowOhm().high(), leads)));
    }

    private MergedChecks merged(Point point, List<Integer> indexes) {
        MergedChecks merge = new MergedChecks(policy);
        for (int index : indexes) {
            merge.add(visit.busChecks().get(index), "/busChecks/" + index, supplyLow(point.stage()));
        }
        return merge;
    }

    private Evidence counted(Point point, MergedChecks merge) {
        Evidence evidence = evidence(point.network(), point.stage(), merge.rollCall(), merge.done());
        return supplyLow(point.stage()) ? new Evidence(evidence.rollCall(), Optional.empty(), evidence.done(), evidence.history()) : evidence;
    }

    /** The checks of one point taken together, and what they say. */
    private record Told(Point point, MergedChecks merge, BusVerdict verdict) {
        boolean fails() {
            return verdict.verdict() == BusVerdict.Verdict.OUTSIDE || !merge.silent().isEmpty();
        }
    }

    /** Empty where the checks say nothing. */
    private Optional<Told> told(Point point, List<Integer> indexes) {
        MergedChecks merge = merged(point, indexes);
        return merge.saysNothing()
                ? Optional.empty()
                : Optional.of(new Told(point, merge, judge(point.network(), merge.readings(point.atModule()), counted(point, merge))));
    }

    // Again, with what is known of the unit's history.

    /**
     * What a visit said of one network.
     *
     * @param fails out of limits, or a module silent
     * @param byCodesAlone nothing was measured or called
     */
    public record Retold(BusVerdict verdict, boolean fails, boolean byCodesAlone) {}

    /**
     * A visit judged again for one network, its earlier repairs weighed in: the last stage that fails decides, else the last, else the codes alone.
     *
     * @return empty where the visit says nothing of the network
     */
    public static Optional<Retold> again(Unit unit, Visit visit, String network, List<Evidence.PastRepair> history, Policy policy) {
        BusJudge judge = new BusJudge(unit, visit, CodeJudge.of(visit, unit.build()).codes(), policy, history, new BusAnswers());
        List<Told> told = new ArrayList<>();
        judge.points().forEach((point, indexes) -> {
            if (point.network().equals(network)) {
                judge.told(point, indexes).ifPresent(told::add);
            }
        });
        Optional<Told> decides = told.stream().max(Comparator.comparing(Told::fails).thenComparing(one -> one.point().stage())
                .thenComparing(one -> one.point().atModule().isEmpty()));
        return decides.map(one -> new Retold(one.verdict(), one.fails(), false)).or(() -> judge.byCodes(network));
    }

    private Optional<Retold> byCodes(String network) {
        Evidence evidence = evidence(network, Stage.AS_FOUND, Optional.empty(), List.of());
        return evidence.codes().filter(signs -> !signs.isEmpty())
                .map(_ -> new Retold(judge(network, new MergedChecks(policy).readings(Optional.empty()), evidence), false, true));
    }

    /** What to measure first on a network of which nothing is wrong, as far as is known. */
    public static BusVerdict unmeasured(Unit unit, String network, List<Evidence.PastRepair> history, Policy policy) {
        return comebackledger.bus.BusCheck.judge(circuit(unit, network), BusReadings.NONE,
                new Evidence(Optional.empty(), Optional.empty(), List.of(), history), Circuits.policy(policy));
    }

    /** What the trunk itself measured: the leads taken off. */
    private static OptionalDouble comparable(Optional<Reading> reading, double leads) {
        return reading.isPresent() && reading.get() instanceof Quantity quantity
                ? OptionalDouble.of(Math.max(0, quantity.si() - leads))
                : OptionalDouble.empty();
    }

    private static OptionalDouble limit(double ohm, double leads) {
        return Double.isFinite(ohm) ? OptionalDouble.of(Math.max(0, ohm - leads)) : OptionalDouble.empty();
    }

    private Evidence evidence(String network, Stage stage, Optional<RollCall> call, List<comebackledger.visit.DoneTest> done) {
        String system = Place.network(network);
        boolean read = !visit.codes().isEmpty() || !visit.captures().isEmpty() || visit.codesCleared();
        List<CodeSign> signs = codes.isEmpty()
                ? List.of()
                : codes.stream().filter(code -> code.stage() == stage && !code.setDuringService())
                        .filter(code -> code.system().map(system::equals).orElse(code.family() == CodeFact.Family.LOW_SUPPLY))
                        .flatMap(code -> BusEvidence.sign(code).stream())
                        .toList();
        Optional<List<CodeSign>> told = read && (stage == Stage.AS_FOUND || !signs.isEmpty()) ? Optional.of(signs) : Optional.empty();
        return new Evidence(call.map(BusEvidence::rollCall), told, BusEvidence.done(done), history);
    }
}
