package comebackledger.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.measure.OverRange;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.measure.UnitOfMeasure;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

/** Laws that the answer must obey on trunks drawn by chance: each fault explains its own readings, and a trunk has no preferred end. */
class PredictedFaultTest {
    private static final List<FaultKind> KINDS = List.of(FaultKind.NONE_FOUND, FaultKind.TERMINATOR_MISSING, FaultKind.TERMINATOR_DRIFTED,
            FaultKind.EXTRA_TERMINATOR, FaultKind.TRUNK_OPEN, FaultKind.TRUNK_SERIES_RESISTANCE, FaultKind.TRUNK_SHORT_HIGH_LOW,
            FaultKind.SHORT_TO_GROUND, FaultKind.SHORT_TO_SUPPLY, FaultKind.MODULE_STUB, FaultKind.MODULE_SHUNT, FaultKind.CONNECTOR_FAULT);
    private static final double LEAD_OHM = 0.2;

    private static BusReadings readings(Predicted predicted) {
        return SimulatedTest.readings(shown(predicted.highLowOhm()), shown(predicted.highGroundOhm()), shown(predicted.lowGroundOhm()),
                shown(predicted.highSupplyOhm()), shown(predicted.lowSupplyOhm()));
    }

    private static Optional<Reading> shown(double ohm) {
        return Optional.of(Predicted.isOpen(ohm) ? new OverRange(UnitOfMeasure.MEGOHM) : Quantity.of(ohm, UnitOfMeasure.OHM));
    }

    private static Predicted predicted(Circuit circuit, List<Fault> faults) {
        return BusModel.readings(circuit, faults, new BusModel.Meter(false, 0, LEAD_OHM, Optional.empty()));
    }

    /** Within what no meter tells apart: five counts, the meter's bound, and three standard deviations of a terminator. */
    private static boolean readsAlike(Predicted one, Predicted other) {
        return alike(one.highLowOhm(), other.highLowOhm()) && alike(one.highGroundOhm(), other.highGroundOhm())
                && alike(one.lowGroundOhm(), other.lowGroundOhm()) && alike(one.highSupplyOhm(), other.highSupplyOhm())
                && alike(one.lowSupplyOhm(), other.lowSupplyOhm());
    }

    private static boolean alike(double one, double other) {
        return Predicted.isOpen(one) || Predicted.isOpen(other)
                ? Predicted.isOpen(one) == Predicted.isOpen(other)
                : Math.abs(one - other) <= 5 * Simulated.count(Math.max(one, other)) + 0.045 * Math.max(one, other);
    }

    /**
     * Of the fault itself, or of faults that read the same: together at least a half, and the first suspect is one of them. What weighs little
     * beforehand (a stub beside a sound network) may hide behind what reads alike and weighs more.
     */
    @Test
    void judge_readingsOfAFault_suspectsItOrWhatReadsTheSame() {
        SplittableRandom random = new SplittableRandom(2026);
        for (FaultKind kind : KINDS) {
            for (int i = 0; i < 40; i++) {
                Circuit circuit = SimulatedBuild.told(random, random.nextInt(2, 12), SimulatedBuild.Known.ALL);
                Simulated.Truth truth = Simulated.of(random, circuit, new Simulated.Cause(Optional.of(kind), 1));
                Predicted read = predicted(circuit, truth.faults());

                BusVerdict verdict = BusCheck.judge(circuit, readings(read), Evidence.NONE, CheckPolicy.DEFAULT);

                String what = truth.key() + " " + truth.faults() + "\n" + read + "\n" + BusCheckTest.table(verdict) + circuit;
                double alike = 0;
                for (BusVerdict.Suspect suspect : verdict.suspects()) {
                    boolean same = suspect.fault() == kind && suspect.also().isEmpty();
                    alike += same || suspect.predicted().filter(told -> readsAlike(told, read)).isPresent() ? suspect.probability() : 0;
                }
                BusVerdict.Suspect first = verdict.suspects().getFirst();
                assertTrue(first.predicted().filter(told -> readsAlike(told, read)).isPresent(), () -> "the first reads otherwise: " + what);
                assertTrue(alike >= 0.5, () -> "alike " + what);
                boolean told = verdict.suspects().stream().anyMatch(suspect -> isSame(suspect, truth));
                boolean sound = readsAlike(read, predicted(circuit, List.of()));
                assertTrue(told || sound || drowned(verdict, read), () -> "not among the suspects: " + what);
            }
        }
    }

    private static boolean isSame(BusVerdict.Suspect suspect, Simulated.Truth truth) {
        FaultKind kind = truth.kind();
        boolean any = Ranking.isModule(kind) && suspect.part().isEmpty();
        return suspect.fault() == kind && suspect.also().isEmpty() && (any || suspect.part().equals(truth.part()));
    }

    /** All that is told reads alike, so what is missing from it is less likely beforehand, not refuted. */
    private static boolean drowned(BusVerdict verdict, Predicted read) {
        return verdict.suspects().stream().filter(suspect -> suspect.predicted().isPresent()).limit(3)
                .allMatch(suspect -> readsAlike(suspect.predicted().get(), read));
    }

    /**
     * The trunk turned end for end, the connector with it: the same suspects with the same probabilities. Stretches on one side of the connector share
     * the derivatives of the first of them, which is another one on the turned trunk: 0.05 is the most seen.
     */
    @Test
    void judge_onATurnedTrunk_answersTheSameTurned() {
        SplittableRandom random = new SplittableRandom(77);
        for (int i = 0; i < 60; i++) {
            Circuit circuit = RandomTrunk.circuit(random);
            List<Fault> faults = RandomTrunk.faults(random, circuit);
            BusReadings readings = readings(predicted(circuit, faults));
            List<String> modules = circuit.nodes().orElseThrow().stream().map(Circuit.Node::module).toList();
            int silent = random.nextInt(modules.size() + 1);
            RollCall call = new RollCall(modules.subList(silent, modules.size()), modules.subList(0, silent));
            Evidence evidence = new Evidence(Optional.of(call), Optional.empty(), List.of(), List.of());

            BusVerdict one = BusCheck.judge(circuit, readings, evidence, CheckPolicy.DEFAULT);
            BusVerdict turned = BusCheck.judge(RandomTrunk.turned(circuit), readings, evidence, CheckPolicy.DEFAULT);

            String what = i + " " + faults + "\n" + BusCheckTest.table(one) + BusCheckTest.table(turned);
            assertEquals(one.verdict(), turned.verdict(), what);
            Map<String, Double> told = told(one);
            Map<String, Double> toldTurned = told(turned);
            told.forEach((name, probability) -> assertEquals(probability, toldTurned.getOrDefault(name, 0.0), 0.06, () -> name + " " + what));
            toldTurned.forEach((name, probability) -> assertEquals(probability, told.getOrDefault(name, 0.0), 0.06, () -> name + " " + what));
        }
    }

    private static Map<String, Double> told(BusVerdict verdict) {
        Map<String, Double> told = new TreeMap<>();
        verdict.suspects()
                .forEach(suspect -> told.merge(suspect.fault().word() + suspect.part() + suspect.also(), suspect.probability(), Double::sum));
        return told;
    }

    /** One more path between the lines, to ground or to the positive cable never raises a reading between or to them. */
    @Test
    void readings_withOneMoreShunt_neverRise() {
        SplittableRandom random = new SplittableRandom(5);
        for (int i = 0; i < 400; i++) {
            Circuit circuit = RandomTrunk.circuit(random);
            List<Fault> before = RandomTrunk.faults(random, circuit);
            List<FaultKind> shunts = List.of(FaultKind.TRUNK_SHORT_HIGH_LOW, FaultKind.EXTRA_TERMINATOR, FaultKind.SHORT_TO_GROUND,
                    FaultKind.SHORT_TO_SUPPLY);
            Fault shunt = new Fault(shunts.get(random.nextInt(4)), Optional.empty(), Optional.of(Line.values()[random.nextInt(2)]),
                    OptionalDouble.of(Math.pow(10, random.nextDouble(-1, 4))),
                    OptionalDouble.of(random.nextDouble(circuit.trunkMetres().getAsDouble())),
                    List.of());
            List<Fault> after = new ArrayList<>(before);
            after.add(shunt);

            Predicted less = predicted(circuit, before);
            Predicted more = predicted(circuit, after);

            String what = i + " " + before + " and " + shunt + "\n" + less + "\n" + more;
            assertTrue(more.highLowOhm() <= less.highLowOhm() * (1 + 1e-9), what);
            assertTrue(more.highGroundOhm() <= less.highGroundOhm() * (1 + 1e-9), what);
            assertTrue(more.lowGroundOhm() <= less.lowGroundOhm() * (1 + 1e-9), what);
            assertTrue(more.highSupplyOhm() <= less.highSupplyOhm() * (1 + 1e-9), what);
            assertTrue(more.lowSupplyOhm() <= less.lowSupplyOhm() * (1 + 1e-9), what);
        }
    }
}
