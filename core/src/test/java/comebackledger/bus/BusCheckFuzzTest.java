package comebackledger.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.measure.OverRange;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.measure.UnitOfMeasure;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Builds of which much or nothing is told, and readings that fit nothing: always an answer, and it adds up to 1. */
class BusCheckFuzzTest {
    private static final SplittableRandom RANDOM = new SplittableRandom(99);

    private static boolean maybe() {
        return RANDOM.nextBoolean();
    }

    private static OptionalDouble value(double from, double to) {
        return maybe() ? OptionalDouble.of(maybe() ? from : RANDOM.nextDouble(from, to)) : OptionalDouble.empty();
    }

    private static Circuit circuit() {
        List<Circuit.Node> nodes = new ArrayList<>();
        int count = RANDOM.nextInt(4);
        for (int i = 0; i < count; i++) {
            nodes.add(new Circuit.Node("m" + i, value(0, 30), value(0, 2), value(1e4, 1e5), value(5e3, 5e4), value(0, 3), value(1e4, 5e4)));
        }
        List<Circuit.Terminator> terminators = new ArrayList<>();
        int ends = RANDOM.nextInt(4);
        for (int i = 0; i < ends; i++) {
            terminators
                    .add(new Circuit.Terminator("t" + i, value(0, 30), maybe() ? 120 : 1, maybe() ? Optional.of("m0") : Optional.empty(), maybe()));
        }
        return new Circuit("n", value(0, 30), value(0, 0.1), maybe() ? Optional.of(terminators) : Optional.empty(),
                maybe() ? Optional.of(nodes) : Optional.empty(),
                maybe() ? Optional.of(new Circuit.Connector(value(0, 30), value(0, 2))) : Optional.empty(),
                value(0.5, 100), maybe() ? OptionalDouble.of(24) : OptionalDouble.empty());
    }

    private static Optional<Reading> ohm() {
        return switch (RANDOM.nextInt(4)) {
            case 0 -> Optional.empty();
            case 1 -> Optional.of(new OverRange(UnitOfMeasure.MEGOHM));
            case 2 -> Optional.of(Quantity.of(0, UnitOfMeasure.OHM));
            default -> Optional.of(Quantity.of(Math.pow(10, RANDOM.nextDouble(-2, 11)), UnitOfMeasure.OHM));
        };
    }

    private static Optional<Quantity> volt() {
        return maybe() ? Optional.empty() : Optional.of(Quantity.of(RANDOM.nextDouble(-5, 40), UnitOfMeasure.VOLT));
    }

    private static BusReadings readings() {
        return new BusReadings(RANDOM.nextInt(4) == 0, ohm(), ohm(), ohm(), ohm(), ohm(), volt(), volt(), volt(), value(0, 2),
                maybe() ? Optional.of(new BusReadings.Meter(0, 0)) : Optional.empty(), maybe() ? Optional.of("m1") : Optional.empty());
    }

    private static Evidence evidence() {
        Optional<RollCall> call = maybe() ? Optional.of(new RollCall(List.of("m0", "x"), List.of("m1"))) : Optional.empty();
        List<CodeSign> codes = new ArrayList<>();
        for (CodeSign.Says says : CodeSign.Says.values()) {
            if (maybe()) {
                codes.add(new CodeSign(says, maybe() ? Optional.of("m1") : Optional.empty(), maybe() ? Optional.of("y") : Optional.empty(), maybe()));
            }
        }
        List<DoneTest> done = new ArrayList<>();
        for (TestKind kind : TestKind.values()) {
            if (RANDOM.nextInt(4) == 0) {
                done.add(new DoneTest(kind, maybe() ? Optional.of("m0") : maybe() ? Optional.of("t0") : Optional.empty(), readings(),
                        Optional.empty(), ohm(),
                        ohm(), ohm(), ohm(), ohm(), maybe() ? Optional.of(maybe()) : Optional.empty()));
            }
        }
        return new Evidence(call, maybe() ? Optional.of(codes) : Optional.empty(), done, List.of(new Evidence.PastRepair("trunk", maybe())));
    }

    @Test
    void judge_whateverIsTold_answers() {
        for (int i = 0; i < 1500; i++) {
            Circuit circuit = circuit();
            BusReadings readings = readings();
            Evidence evidence = evidence();
            String what = i + " " + circuit + readings + evidence;

            BusVerdict verdict = BusCheck.judge(circuit, readings, evidence, CheckPolicy.DEFAULT);

            assertEquals(1, verdict.suspects().stream().mapToDouble(BusVerdict.Suspect::probability).sum(), 1e-9, what);
            for (BusVerdict.NextTest test : verdict.nextTests()) {
                assertTrue(Double.isFinite(test.gainBits()) && !test.cautions().isEmpty(), what);
            }
            verdict.equivalents().ifPresent(equal -> {
                for (OptionalDouble ohm : List.of(equal.shuntOhm(), equal.seriesInTrunkOhm(), equal.seriesAtConnectorOhm())) {
                    assertTrue(Double.isFinite(ohm.orElse(0)), what);
                }
            });
        }
    }
}
