package comebackledger.bus;

import comebackledger.bus.BusVerdict.Verdict;
import comebackledger.measure.Measured;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.IntStream;

/** One bus check judged: within or outside, what explains it and how likely, and what to measure next. */
public final class BusCheck {
    /** How sure a resistance that was read with the power on is worthless (common practice, no source). */
    private static final double TEST_CONDITION = 0.9;
    /** A reading of the supply under its limit while the supply is sound: a bad probe, a load on at that moment (common practice, no source). */
    private static final double LOW_FOR_NOTHING = 0.002;
    /** Above this a vehicle of untold voltage has 24 V (common practice, no source). */
    private static final double ABOVE_12_VOLT = 17;

    /** Leads that nobody told of: worn ones, or ones that the technician has zeroed without saying so, standard deviation (common practice, no source). */
    private static final double UNTOLD_LEAD_OHM = 0.1;

    /** From here on the readings, not the vehicle, are what is looked at first (common practice, no source). */
    private static final double NOTHING_FITS = 0.5;

    private BusCheck() {}

    /** How much is asked; each costs several times what the one before costs, and says the same of what both say. */
    public enum Depth {
        /** The verdict and what it rests on; no suspect, no next test. */
        LIMITS,
        /** No next test. */
        SUSPECTS, NEXT_TESTS
    }

    /** @throws IllegalArgumentException if the records contradict themselves */
    public static BusVerdict judge(Circuit told, BusReadings readings, Evidence evidence, CheckPolicy policy) {
        return judge(told, readings, evidence, policy, Depth.NEXT_TESTS);
    }

    /** @throws IllegalArgumentException if the records contradict themselves */
    public static BusVerdict judge(Circuit told, BusReadings readings, Evidence evidence, CheckPolicy policy, Depth depth) {
        Circuit circuit = withNamedModules(told, evidence);
        boolean lowSupply = isLow(circuit, readings, policy);
        boolean invalid = readings.powered() && readings.hasResistance();
        BusReadings used = invalid ? readings.withoutResistances() : readings;
        used = lowSupply ? used.withoutVoltages() : used;
        Optional<RollCall> rollCall = lowSupply ? Optional.empty() : rollCall(evidence);
        Expectation expectation = new Expectation(told, readings, policy);
        List<BusVerdict.Suspect> suspects = new ArrayList<>();
        List<BusVerdict.NextTest> next = new ArrayList<>();
        if (depth != Depth.LIMITS) {
            Asked asked = new Asked(told, circuit, used, evidence, policy, rollCall, lowSupply);
            Solved solved = asked.solved(Set.of());
            if (invalid) {
                suspects.add(testCondition());
            }
            suspects.addAll(solved.suspects.of(solved.groups, invalid ? 1 - TEST_CONDITION : 1));
            if (depth == Depth.NEXT_TESTS) {
                if (invalid) {
                    next.add(BusVerdict.NextTest.of(TestKind.REPEAT_POWER_OFF, Optional.empty(), 1, policy));
                }
                NextTests tests = fitsNothing(suspects) && !solved.observed.isEmpty() ? asked.doubted(solved) : solved.next();
                next.addAll(tests.best(policy, evidence.done(), readings, rollCall.isPresent(), false));
            }
        }
        Judgement judgement = new Judgement(circuit, used, rollCall, expectation.range(), policy);
        Verdict verdict = invalid ? Verdict.INVALID : judgement.verdict();
        Optional<Double> shown = used.highLow().map(Observed::ohm);
        return new BusVerdict(verdict, shown.map(expectation::terminatorsSeen).orElse(OptionalInt.empty()), expectation.range(),
                shown.flatMap(expectation::equivalents), suspects, next, cautions(invalid, lowSupply, fitsNothing(suspects), judgement));
    }

    private static BusVerdict.Suspect testCondition() {
        return new BusVerdict.Suspect(FaultKind.TEST_CONDITION, Optional.empty(), Optional.empty(), List.of(), OptionalDouble.empty(),
                OptionalDouble.empty(), TEST_CONDITION, Optional.empty(),
                "A resistance was read with the power on: live modules drive current through the meter. Repeat it with the power off.", List.of());
    }

    private static boolean fitsNothing(List<BusVerdict.Suspect> suspects) {
        return suspects.stream().anyMatch(suspect -> suspect.fault() == FaultKind.OTHER && suspect.probability() >= NOTHING_FITS);
    }

    private static List<String> cautions(boolean invalid, boolean lowSupply, boolean fitsNothing, Judgement judgement) {
        List<String> cautions = new ArrayList<>();
        if (fitsNothing) {
            cautions.add(
                    "The readings fit no fault that this build can have: read each of them again, leads zeroed, before anything is opened, and compare "
                            + "the build with the vehicle.");
        }
        if (invalid) {
            cautions.add("Resistances read with the power on say nothing of the network: batteries off by the maker's procedure, then repeat.");
        }
        if (lowSupply) {
            cautions.add("The supply was under its limit: roll call and voltages count as not made. Charge or support the batteries first.");
        }
        cautions.addAll(judgement.cautions());
        cautions.add("Advice from readings: the maker's service information, local rules and licensed practice come first.");
        return cautions;
    }

    /** The parts of an answer that one posterior gives. @param ranking of the groups */
    private record Solved(Ranking ranking, List<Ranking.Group> groups, Suspects suspects, Layout layout, Talk talk, List<Observed> observed) {
        NextTests next() {
            return new NextTests(layout, talk, groups);
        }
    }

    /** What is asked, of all that was read or without some of it. */
    private record Asked(Circuit told, Circuit circuit, BusReadings used, Evidence evidence, CheckPolicy policy, Optional<RollCall> rollCall,
            boolean lowSupply) {
        private double leadOhm() {
            return used.leadOhm().orElse(policy.leadOhm());
        }

        /** @param leftOut numbers of the readings that count as not made */
        Solved solved(Set<Integer> leftOut) {
            BusReadings.Meter meter = used.meter().orElse(policy.meter());
            double supplyVolt = used.supplyVoltage().map(volt -> volt.si()).orElse(nominalVolts(circuit, used) * 1.08);
            Layout layout = new Layout(circuit, Assumed.NOTHING);
            List<Observed> all = Observed.of(layout, used, evidence.done(), meter);
            List<Observed> observed = IntStream.range(0, all.size()).filter(i -> !leftOut.contains(i)).mapToObj(all::get).toList();
            OptionalInt named = told.nodes().isPresent() ? OptionalInt.empty() : OptionalInt.of(circuit.nodes().orElse(List.of()).size());
            List<Scene> scenes = Scene.of(circuit, policy, Scene.Measured.of(observed, used.supplyVoltage().isPresent()), supplyVolt, named);
            Layout laid = scenes.getFirst().off().trunk().layout;
            Talk talk = new Talk(laid, rollCall, evidence.codes(), told.nodes().isPresent());
            boolean pointed = lowSupply || evidence.codes().orElse(List.of()).stream().anyMatch(code -> code.says() == CodeSign.Says.LOW_SUPPLY);
            Posterior posterior = new Posterior(scenes, observed, talk, evidence.done(), policy.terminatorSpread(),
                    meter.relativeAccuracy() / Math.sqrt(3), new Measured(leadOhm(), used.leadOhm().isPresent() ? 0 : UNTOLD_LEAD_OHM));
            List<Posterior.Particle> particles = posterior.particles(Families.of(laid, policy, evidence, pointed));
            if (lowSupply) {
                particles = particles.stream().map(particle -> particle.family().kind() == FaultKind.SUPPLY_LOW
                        ? particle
                        : particle.lighter(Math.log(LOW_FOR_NOTHING))).toList();
            }
            double other = posterior.logOther(policy.odds().of(FaultKind.OTHER)) + (lowSupply ? Math.log(LOW_FOR_NOTHING) : 0);
            Ranking ranking = new Ranking(laid, particles, other, policy.odds().shareOfOther());
            return new Solved(ranking, ranking.groups(), new Suspects(new Trunk(circuit, Assumed.NOTHING, false, 0), used.hasVoltage(), observed,
                    leadOhm(), rollCall.map(RollCall::silent).orElse(List.of())), laid, talk, observed);
        }

        /** The tests after readings that fit nothing together. */
        NextTests doubted(Solved together) {
            Doubt doubt = Doubt.of(together.observed, leadOhm(), leftOut -> {
                Solved without = solved(leftOut);
                return without.ranking.other < NOTHING_FITS || without.observed.isEmpty()
                        ? Optional.of(new Doubt.Explanation(leftOut, without.groups, without.ranking.logForeseen))
                        : Optional.empty();
            });
            return new NextTests(together.layout, together.talk, doubt);
        }
    }

    /** The last roll call made decides. */
    private static Optional<RollCall> rollCall(Evidence evidence) {
        Optional<RollCall> last = evidence.rollCall();
        for (DoneTest test : evidence.done()) {
            last = test.rollCall().isPresent() ? test.rollCall() : last;
        }
        return last;
    }

    /** Of a vehicle whose supply nobody read: a line cannot stand above the cable that it touches. */
    private static double nominalVolts(Circuit circuit, BusReadings readings) {
        double most = Math.max(readings.highVoltage().map(volt -> volt.si()).orElse(0.0), readings.lowVoltage().map(volt -> volt.si()).orElse(0.0));
        return circuit.nominalSupplyVolts().orElse(most > ABOVE_12_VOLT ? 24 : 12);
    }

    static boolean isLow(Circuit circuit, BusReadings readings, CheckPolicy policy) {
        if (readings.supplyVoltage().isEmpty()) {
            return false;
        }
        double volt = readings.supplyVoltage().get().si();
        double nominal = circuit.nominalSupplyVolts().orElse(volt > ABOVE_12_VOLT ? 24 : 12);
        return volt < policy.lowSupplyVoltsPer12() * nominal / 12;
    }

    /** Where the build names no modules, those that were called or spoken of are on the trunk, in an order that nobody knows. */
    private static Circuit withNamedModules(Circuit circuit, Evidence evidence) {
        if (circuit.nodes().isPresent()) {
            return circuit;
        }
        Set<String> names = new LinkedHashSet<>();
        evidence.rollCall().ifPresent(call -> call.called().forEach(names::add));
        evidence.done().forEach(test -> test.rollCall().ifPresent(call -> call.called().forEach(names::add)));
        for (CodeSign code : evidence.codes().orElse(List.of())) {
            code.accused().ifPresent(names::add);
            code.reporter().ifPresent(names::add);
        }
        return circuit.withNodes(names.stream().limit(Circuit.MOST_NODES).map(Circuit.Node::named).toList());
    }
}
