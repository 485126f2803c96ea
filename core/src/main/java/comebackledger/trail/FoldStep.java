package comebackledger.trail;

import comebackledger.judge.AirFact;
import comebackledger.judge.BusFact;
import comebackledger.judge.CodeFact;
import comebackledger.judge.LampFact;
import comebackledger.judge.Occurrences;
import comebackledger.judge.RepairFact;
import comebackledger.judge.SupplyFact;
import comebackledger.judge.Verdict;
import comebackledger.judge.VisitFacts;
import comebackledger.policy.Policy;
import comebackledger.visit.Place;
import comebackledger.visit.Stage;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;

/** One step of the fold: as-found evidence, then repairs, then as-left evidence. */
final class FoldStep {
    private final UnitState before;
    private final VisitFacts facts;
    private final Policy policy;
    private final TrailBook book;
    private final Changing<SilenceState> silences;
    private final Changing<NetworkFinding> findings;
    private final Changing<LampState> lamps;
    private final Changing<Integer> repairsDone;
    private final List<SeriesPoint> measured = new ArrayList<>();
    private Optional<LossState> loss;

    FoldStep(UnitState before, VisitFacts facts, Policy policy) {
        this.before = before;
        this.facts = facts;
        this.policy = policy;
        this.book = new TrailBook(before.trails());
        this.silences = new Changing<>(before.silences());
        this.findings = new Changing<>(before.findings());
        this.lamps = new Changing<>(before.lamps());
        this.repairsDone = new Changing<>(before.repairsDone());
        this.loss = before.loss();
    }

    UnitState after() {
        MetersRead read = new MetersRead(facts.odometer(), facts.engineHours());
        History<MetersRead> meters = read.tell() ? before.meters().with(List.of(read)) : before.meters();
        Occurrences.Of found = Occurrences.of(facts, before.codes(), policy.bus().namePlaceAt());
        if (book.hasOpenSuspicion()) {
            book.endWaiting(() -> new UnitMeters(meters), facts.visit(), facts.arrivedAt(), policy.quietWindow());
        }
        found.occurrences().forEach(occurrence -> book.see(occurrence, facts.visit(), facts.arrivedAt()));
        remember(Stage.AS_FOUND);
        testsOf(Stage.AS_FOUND).stream().filter(test -> found.occurrences().stream().noneMatch(one -> one.place().system().equals(test.system())))
                .forEach(test -> book.pass(test, facts.visit(), facts.arrivedAt()));
        repair();
        remember(Stage.AS_LEFT);
        passAsLeft(found.counting());
        rememberLamps();
        LastVisit last = new LastVisit(facts.visit(), facts.arrivedAt(), facts.releasedAt());
        return new UnitState(before.visits() + 1, before.firstVisitAt().or(() -> Optional.of(facts.arrivedAt())), Optional.of(last), meters,
                found.memory(), book.trails(), silences.kept(), findings.kept(), loss,
                lamps.kept(), duty(), repairsDone.kept(), before.series().with(measured));
    }

    // Tests.

    /** The systems whose every counted test of that stage passed, with what those tests repeat. */
    private List<PassedTest> testsOf(Stage stage) {
        if (facts.busChecks().isEmpty() && facts.airTests().isEmpty() && facts.supplies().isEmpty()) {
            return List.of();
        }
        SortedMap<String, PassedTest> passed = new TreeMap<>();
        SortedSet<String> failed = new TreeSet<>();
        for (BusFact check : facts.busChecks()) {
            if (check.stage() == stage && check.counts()) {
                SortedSet<String> repeats = new TreeSet<>(check.readings());
                check.answered().forEach(module -> repeats.add(Occurrences.SILENT + module));
                tell(Place.network(check.network()), check.passes(), repeats, check.pointers(), passed, failed);
            }
        }
        for (AirFact test : facts.airTests()) {
            if (test.stage() == stage && test.verdict() != Verdict.INVALID) {
                tell(Place.CHARGE_AIR, test.passes(), new TreeSet<>(List.of(Occurrences.LEAK)), List.of(test.pointer()), passed, failed);
            }
        }
        for (SupplyFact supply : facts.supplies()) {
            if (supply.stage() == stage) {
                tell(Place.SUPPLY.system(), !supply.low(), new TreeSet<>(List.of(Occurrences.SUPPLY_VOLTAGE)), List.of(supply.pointer()), passed,
                        failed);
            }
        }
        failed.forEach(passed::remove);
        return List.copyOf(passed.values());
    }

    private static void tell(String system, boolean passes, SortedSet<String> repeats, List<String> pointers, SortedMap<String, PassedTest> passed,
            SortedSet<String> failed) {
        if (passes) {
            passed.merge(system, new PassedTest(system, repeats, pointers), PassedTest::and);
        } else {
            failed.add(system);
        }
    }

    private boolean failsAsLeft(String system) {
        boolean bus = facts.busChecks().stream()
                .anyMatch(check -> check.stage() == Stage.AS_LEFT && check.fails() && Place.network(check.network()).equals(system));
        boolean air = system.equals(Place.CHARGE_AIR) && facts.airTests().stream().anyMatch(test -> test.stage() == Stage.AS_LEFT && test.fails());
        boolean supply = system.equals(Place.SUPPLY.system())
                && facts.supplies().stream().anyMatch(one -> one.stage() == Stage.AS_LEFT && one.low());
        return bus || air || supply;
    }

    private void passAsLeft(List<CodeFact> counting) {
        for (PassedTest test : testsOf(Stage.AS_LEFT)) {
            boolean contradicted = counting.stream()
                    .anyMatch(code -> code.stage() == Stage.AS_LEFT && code.system().filter(test.system()::equals).isPresent());
            // Before the release nothing is closed; the unit is in the shop.
            if (!contradicted && facts.releasedAt().isPresent()) {
                book.pass(test, facts.visit(), facts.releasedAt().get());
            }
        }
    }

    // Repairs.

    private void repair() {
        for (RepairFact repair : facts.repairs()) {
            String system = repair.place().system();
            if (repair.done()) {
                repairsDone.own().merge(system, 1, Integer::sum);
                if (!silences.entries().isEmpty()) {
                    silences.own().replaceAll((_, silence) -> Place.network(silence.network()).equals(system)
                            ? new SilenceState(silence.network(), silence.module(), silence.visit(), silence.at(), true,
                                    silence.claimedSince() || repair.claimsFixed())
                            : silence);
                }
                if (system.equals(Place.CHARGE_AIR)) {
                    loss = loss.map(
                            one -> new LossState(one.visit(), one.at(), one.shareOfEngineAir(), true, one.claimedSince() || repair.claimsFixed()));
                }
            }
            book.repair(repair, facts.visit(), facts.arrivedAt(), facts.releasedAt(), failsAsLeft(system));
        }
    }

    // What later answers ask for.

    private void remember(Stage stage) {
        for (BusFact check : facts.busChecks()) {
            if (check.stage() != stage) {
                continue;
            }
            if (!silences.entries().isEmpty()) {
                check.answered().forEach(module -> silences.own().remove(check.network() + "." + module));
            }
            check.silent().forEach(module -> silences.own().put(check.network() + "." + module,
                    new SilenceState(check.network(), module, facts.visit(), facts.arrivedAt(), false, false)));
            if (check.fails()) {
                findings.own().put(check.network(), finding(check));
            } else if (check.passes() && findings.entries().containsKey(check.network())) {
                findings.own().remove(check.network());
            }
            check.highLowOhm().ifPresent(ohm -> measured.add(point(Place.network(check.network()), "highLowOhm", stage, ohm, OptionalDouble.empty(),
                    check.highLowLow(), check.highLowHigh())));
        }
        for (AirFact test : facts.airTests()) {
            if (test.stage() != stage || test.verdict() == Verdict.INVALID) {
                continue;
            }
            test.orificeMm().ifPresent(orifice -> measured.add(point(Place.CHARGE_AIR, "orificeMm", stage, orifice.value(),
                    OptionalDouble.of(orifice.standardUncertainty()), OptionalDouble.empty(), test.orificeLimitMm())));
            if (test.shareOfEngineAir().isPresent()) {
                loss = Optional.of(new LossState(facts.visit(), facts.arrivedAt(), test.shareOfEngineAir().getAsDouble(), false, false));
            } else if (test.passes() || test.fails() && loss.filter(LossState::repairedSince).isPresent()) {
                // Looked at and not measured: tight, or, after a repair, no longer what was measured before it.
                loss = Optional.empty();
            }
        }
    }

    private SeriesPoint point(String system, String reading, Stage stage, double value, OptionalDouble uncertainty, OptionalDouble low,
            OptionalDouble high) {
        return new SeriesPoint(system + "." + reading, facts.arrivedAt(), facts.visit(), stage, value, uncertainty, low, high,
                repairsDone.entries().getOrDefault(system, 0));
    }

    private NetworkFinding finding(BusFact check) {
        SortedMap<String, Double> odds = new TreeMap<>();
        boolean allAnswer = check.called() && check.silent().isEmpty();
        check.suspects().forEach(suspect -> odds.merge(allAnswer && suspect.fault().equals("trunk-open") ? "terminator-missing" : suspect.fault(),
                suspect.probability(), Double::sum));
        return new NetworkFinding(facts.visit(), facts.arrivedAt(), odds);
    }

    private void rememberLamps() {
        LampFact reported = facts.lamps();
        lamp("redStop", reported.redStop());
        lamp("amberWarning", reported.amberWarning());
        lamp("malfunction", reported.malfunction());
        lamp("protect", reported.protect());
    }

    private void lamp(String name, Optional<Boolean> on) {
        on.ifPresent(value -> lamps.own().put(name, new LampState(value, facts.visit(), facts.arrivedAt())));
    }

    private Duty duty() {
        Optional<String> visit = Optional.of(facts.visit());
        Optional<Instant> at = Optional.of(facts.arrivedAt());
        Duty duty = before.duty();
        if (facts.declaredOutOfService().isPresent()) {
            boolean declared = facts.declaredOutOfService().get();
            duty = new Duty(declared ? visit : Optional.empty(), declared ? at : Optional.empty(), duty.defectBy(), duty.defectAt());
        }
        if (facts.defectsCertified()) {
            return new Duty(duty.outOfServiceBy(), duty.outOfServiceAt(), Optional.empty(), Optional.empty());
        }
        if (facts.defectsReported().orElse(0) > 0) {
            return new Duty(duty.outOfServiceBy(), duty.outOfServiceAt(), visit, at);
        }
        return duty;
    }
}
