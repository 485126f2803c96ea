package comebackledger.judge;

import comebackledger.bus.BusCheck.Depth;
import comebackledger.bus.BusReadings;
import comebackledger.bus.BusVerdict;
import comebackledger.bus.CheckPolicy;
import comebackledger.bus.Circuit;
import comebackledger.bus.CodeSign;
import comebackledger.bus.DoneTest;
import comebackledger.bus.Evidence;
import comebackledger.bus.TestKind;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.policy.Policy;
import comebackledger.unit.Build;
import comebackledger.unit.Network;
import comebackledger.unit.Unit;
import comebackledger.visit.BusCheck;
import comebackledger.visit.CodeEntry;
import comebackledger.visit.CodeStatus;
import comebackledger.visit.MeterSpec;
import comebackledger.visit.Place;
import comebackledger.visit.Power;
import comebackledger.visit.RollCall;
import comebackledger.visit.Stage;
import comebackledger.visit.Visit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

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
        BusVerdict verdict = judge(check.network(), readings(check, policy), evidence);
        answers.keep(question(check.network(), readings(check, policy), evidence, Depth.LIMITS), verdict);
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
        Merge merge = merged(point, indexes);
        if (merge.saysNothing()) {
            return;
        }
        BusAnswers.Question question = question(point.network(), merge.readings(point.atModule()), counted(point, merge), Depth.LIMITS);
        BusAnswers.Weighed limits = answers.answer(question);
        List<String> silent = merge.silent();
        boolean suspicious = !codes.isEmpty() || !silent.isEmpty() || limits.verdict() == BusVerdict.Verdict.OUTSIDE;
        List<SuspectFact> suspects = suspicious ? answers.answer(question.at(Depth.SUSPECTS)).suspects() : List.of();
        double leads = merge.leadOhm.orElse(policy.leadOhm());
        OptionalDouble highLow = point.atModule().isPresent() ? OptionalDouble.empty() : comparable(merge.highLow, leads);
        facts.add(new BusFact(point.network(), point.stage(), List.copyOf(merge.pointers), verdict(limits.verdict()), merge.names(),
                merge.answered(), silent, suspects, highLow, limit(limits.expectedHighLowOhm().low(), leads),
                limit(limits.expectedHighLowOhm().high(), leads)));
    }

    private Merge merged(Point point, List<Integer> indexes) {
        Merge merge = new Merge(policy);
        for (int index : indexes) {
            merge.add(visit.busChecks().get(index), "/busChecks/" + index, supplyLow(point.stage()));
        }
        return merge;
    }

    private Evidence counted(Point point, Merge merge) {
        Evidence evidence = evidence(point.network(), point.stage(), merge.rollCall(), merge.done);
        return supplyLow(point.stage()) ? new Evidence(evidence.rollCall(), Optional.empty(), evidence.done(), evidence.history()) : evidence;
    }

    /** The checks of one point taken together, and what they say. */
    private record Told(Point point, Merge merge, BusVerdict verdict) {
        boolean fails() {
            return verdict.verdict() == BusVerdict.Verdict.OUTSIDE || !merge.silent().isEmpty();
        }
    }

    /** Empty where the checks say nothing. */
    private Optional<Told> told(Point point, List<Integer> indexes) {
        Merge merge = merged(point, indexes);
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
                .map(_ -> new Retold(judge(network, new Merge(policy).readings(Optional.empty()), evidence), false, true));
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

    /** The last of each reading and of each module called. */
    private static final class Merge {
        private final CheckPolicy policy;
        private final List<String> pointers = new ArrayList<>();
        private Optional<Reading> highLow = Optional.empty();
        private Optional<Reading> highGround = Optional.empty();
        private Optional<Reading> lowGround = Optional.empty();
        private Optional<Reading> highSupply = Optional.empty();
        private Optional<Reading> lowSupply = Optional.empty();
        private Optional<Quantity> supply = Optional.empty();
        private Optional<Quantity> highVoltage = Optional.empty();
        private Optional<Quantity> lowVoltage = Optional.empty();
        private OptionalDouble leadOhm = OptionalDouble.empty();
        private Optional<BusReadings.Meter> meter = Optional.empty();
        private final Map<String, Boolean> called = new LinkedHashMap<>();
        private final List<comebackledger.visit.DoneTest> done = new ArrayList<>();

        Merge(CheckPolicy policy) {
            this.policy = policy;
        }

        void add(BusCheck check, String pointer, boolean supplyLow) {
            boolean powered = check.power().filter(power -> power == Power.ON).isPresent();
            var shown = check.readings();
            if (!powered) {
                highLow = shown.highLow().or(() -> highLow);
                highGround = shown.highGround().or(() -> highGround);
                lowGround = shown.lowGround().or(() -> lowGround);
                highSupply = shown.highSupply().or(() -> highSupply);
                lowSupply = shown.lowSupply().or(() -> lowSupply);
            }
            if (!supplyLow) {
                supply = shown.supplyVoltage().or(() -> supply);
                highVoltage = shown.highVoltage().or(() -> highVoltage);
                lowVoltage = shown.lowVoltage().or(() -> lowVoltage);
                check.rollCall().ifPresent(call -> {
                    call.answered().forEach(module -> called.put(module, true));
                    call.silent().forEach(module -> called.put(module, false));
                });
            }
            leadOhm = check.leadResistance().isPresent() ? OptionalDouble.of(check.leadResistance().get().si()) : leadOhm;
            meter = check.meter().map(spec -> BusJudge.meter(spec, policy)).or(() -> meter);
            done.addAll(check.done());
            boolean says = !powered && shown.hasResistance()
                    || !supplyLow && (shown.highVoltage().isPresent() || shown.lowVoltage().isPresent() || check.rollCall().isPresent())
                    || !check.done().isEmpty();
            if (says) {
                pointers.add(pointer);
            }
        }

        boolean saysNothing() {
            return pointers.isEmpty();
        }

        Optional<RollCall> rollCall() {
            return called.isEmpty() ? Optional.empty() : Optional.of(new RollCall(answered(), silent()));
        }

        List<String> answered() {
            return modules(true);
        }

        List<String> silent() {
            return modules(false);
        }

        private List<String> modules(boolean answered) {
            List<String> modules = new ArrayList<>();
            called.forEach((module, answer) -> {
                if (answer == answered) {
                    modules.add(module);
                }
            });
            return List.copyOf(modules);
        }

        Set<String> names() {
            Set<String> names = new LinkedHashSet<>();
            highLow.ifPresent(_ -> names.add("highLow"));
            highGround.ifPresent(_ -> names.add("highGround"));
            lowGround.ifPresent(_ -> names.add("lowGround"));
            highSupply.ifPresent(_ -> names.add("highSupply"));
            lowSupply.ifPresent(_ -> names.add("lowSupply"));
            highVoltage.ifPresent(_ -> names.add("highVoltage"));
            lowVoltage.ifPresent(_ -> names.add("lowVoltage"));
            return names;
        }

        BusReadings readings(Optional<String> atModule) {
            return new BusReadings(false, highLow, highGround, lowGround, highSupply, lowSupply, supply, highVoltage, lowVoltage, leadOhm, meter,
                    atModule);
        }
    }

    // From the visit's words to the bus room's; the calculation takes the same way.

    /** The readings of a check as a visit or the calculation sends it. */
    public static BusReadings readings(BusCheck check, CheckPolicy policy) {
        return readings(check.readings(), check.power().filter(power -> power == Power.ON).isPresent(), check.leadResistance(),
                check.meter().map(spec -> meter(spec, policy)), check.atModule());
    }

    private static BusReadings readings(comebackledger.visit.BusReadings shown, boolean powered, Optional<Quantity> leads,
            Optional<BusReadings.Meter> meter,
            Optional<String> atModule) {
        return new BusReadings(powered, shown.highLow(), shown.highGround(), shown.lowGround(), shown.highSupply(), shown.lowSupply(),
                shown.supplyVoltage(),
                shown.highVoltage(), shown.lowVoltage(), leads.isPresent() ? OptionalDouble.of(leads.get().si()) : OptionalDouble.empty(),
                meter, atModule);
    }

    /** What a check does not tell of its meter is as the fleet assumes. */
    private static BusReadings.Meter meter(MeterSpec spec, CheckPolicy policy) {
        BusReadings.Meter usual = policy.meter();
        return new BusReadings.Meter(spec.relativeAccuracy().orElse(usual.relativeAccuracy()), spec.digitOhm().orElse(usual.digitOhm()));
    }

    /** Tests of the closed list as the bus room knows them. */
    public static List<DoneTest> done(List<comebackledger.visit.DoneTest> done) {
        if (done.isEmpty()) {
            return List.of();
        }
        return done.stream().flatMap(test -> TestKind.ofWord(test.test()).stream()
                .map(kind -> new DoneTest(kind, test.place().map(BusJudge::lastPart),
                        readings(test.readings(), false, Optional.empty(), Optional.empty(),
                                Optional.empty()),
                        test.rollCall().map(BusJudge::rollCall), test.part(), test.towardA(), test.towardB(), test.highLine(),
                        test.lowLine(), test.found())))
                .toList();
    }

    private static String lastPart(String place) {
        return place.substring(place.lastIndexOf('.') + 1);
    }

    public static comebackledger.bus.RollCall rollCall(RollCall call) {
        return new comebackledger.bus.RollCall(call.answered(), call.silent());
    }

    private Evidence evidence(String network, Stage stage, Optional<RollCall> call, List<comebackledger.visit.DoneTest> done) {
        String system = Place.network(network);
        boolean read = !visit.codes().isEmpty() || !visit.captures().isEmpty() || visit.codesCleared();
        List<CodeSign> signs = codes.isEmpty()
                ? List.of()
                : codes.stream().filter(code -> code.stage() == stage && !code.setDuringService())
                        .filter(code -> code.system().map(system::equals).orElse(code.family() == CodeFact.Family.LOW_SUPPLY))
                        .flatMap(code -> sign(code).stream())
                        .toList();
        Optional<List<CodeSign>> told = read && (stage == Stage.AS_FOUND || !signs.isEmpty()) ? Optional.of(signs) : Optional.empty();
        return new Evidence(call.map(BusJudge::rollCall), told, done(done), history);
    }

    /** What codes that stand by themselves, outside any visit, say of one network. */
    public static List<CodeSign> signs(List<CodeEntry> codes, Network network) {
        Build build = new Build(OptionalDouble.empty(), Optional.of(List.of(network)), Optional.empty(), Optional.empty());
        return CodeJudge.decoded(codes, build).stream().flatMap(code -> sign(code).stream()).toList();
    }

    private static Optional<CodeSign> sign(CodeFact code) {
        boolean active = code.status() == CodeStatus.ACTIVE || code.status() == CodeStatus.PENDING;
        Optional<CodeSign.Says> says = switch (code.kind()) {
            case LOST_COMMUNICATION -> Optional.of(CodeSign.Says.LOST_COMMUNICATION);
            case INVALID_DATA -> Optional.of(CodeSign.Says.INVALID_DATA);
            case BUS, BUS_OFF -> Optional.of(CodeSign.Says.BUS_OFF);
            case LOW_SUPPLY -> Optional.of(CodeSign.Says.LOW_SUPPLY);
            case SOFTWARE_INCOMPATIBLE, NETWORK_OTHER, CHARGE_AIR, OTHER -> Optional.empty();
        };
        return says.map(word -> new CodeSign(word, code.accused(), code.reporter(), active));
    }
}
