package comebackledger.bus;

import comebackledger.measure.OverRange;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.measure.UnitOfMeasure;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.stream.Collectors;

/**
 * A fault drawn from the odds of RULES, laid on a network drawn by chance, and what a technician would read there: terminators and inputs off
 * their nominal values, a meter with its bound and its counts, frames on a bus that runs, modules that answer or do not.
 */
final class Simulated {
    static final double GAIN = 0.008;
    static final double COUNT = 0.1;
    static final double LEAD_OHM = 0.2;

    /** One draw of the odds: a kind of fault, or, without one, a plausible pair. */
    record Cause(Optional<FaultKind> kind, double odds) {
        static final List<Cause> ALL = causes();

        private static List<Cause> causes() {
            List<Cause> causes = new ArrayList<>();
            FaultOdds.DEFAULT.weights().forEach((kind, odds) -> causes.add(new Cause(Optional.of(kind), odds)));
            causes.add(new Cause(Optional.empty(), FaultOdds.DEFAULT.pairs()));
            return List.copyOf(causes);
        }

        static Cause draw(SplittableRandom random) {
            double at = random.nextDouble(ALL.stream().mapToDouble(Cause::odds).sum());
            for (Cause cause : ALL) {
                at -= cause.odds;
                if (at < 0) {
                    return cause;
                }
            }
            return ALL.getFirst();
        }
    }

    /**
     * @param told the build as the fleet knows it
     * @param truth the same with every part's own value
     * @param faults what is wrong, {@code none-found} by none
     */
    record Truth(Circuit told, Circuit truth, FaultKind kind, List<Fault> faults, SimulatedTalk talk, double volts) {
        Optional<String> part() {
            return faults.isEmpty() ? Optional.empty() : place(faults.getFirst());
        }

        /** Fault and place, both where there are two. */
        String key() {
            return kind == FaultKind.OTHER || faults.isEmpty()
                    ? kind.word()
                    : faults.stream().map(fault -> Simulated.key(fault.kind(), place(fault))).sorted().collect(Collectors.joining(" and "));
        }
    }

    private Simulated() {}

    static String key(FaultKind kind, Optional<String> part) {
        return kind.word() + part.map(name -> " " + name).orElse("");
    }

    private static Optional<String> place(Fault fault) {
        return switch (fault.kind()) {
            case NONE_FOUND, SUPPLY_LOW -> Optional.empty();
            case CONNECTOR_FAULT -> Optional.of("connector");
            default -> fault.part().or(() -> Optional.of("trunk"));
        };
    }

    static Truth draw(SplittableRandom random, Circuit told) {
        return of(random, told, Cause.draw(random));
    }

    static Truth of(SplittableRandom random, Circuit told, Cause cause) {
        Circuit truth = SimulatedBuild.truth(random, told);
        FaultKind kind = cause.kind.orElse(FaultKind.TERMINATOR_MISSING);
        List<Fault> faults = cause.kind.isEmpty() ? pair(random, truth) : kind == FaultKind.OTHER ? odd(random, truth) : single(random, truth, kind);
        double usual = told.nominalSupplyVolts().orElse(12) / 12
                * (kind == FaultKind.SUPPLY_LOW ? random.nextDouble(8, 10.9) : random.nextDouble(12, 14.2));
        return new Truth(told, truth, kind, faults, SimulatedTalk.of(random, truth, faults, kind), usual);
    }

    private static List<Fault> single(SplittableRandom random, Circuit truth, FaultKind kind) {
        return kind == FaultKind.NONE_FOUND ? List.of() : List.of(fault(random, truth, kind));
    }

    /** What meets in practice: a lost terminator, or a break, beside one more fault. */
    private static List<Fault> pair(SplittableRandom random, Circuit truth) {
        Fault lost = fault(random, truth, FaultKind.TERMINATOR_MISSING);
        if (random.nextInt(5) == 0) {
            return List.of(missing("terminator-a"), missing("terminator-b"));
        }
        List<FaultKind> seconds = List.of(FaultKind.EXTRA_TERMINATOR, FaultKind.TRUNK_SHORT_HIGH_LOW, FaultKind.SHORT_TO_GROUND,
                FaultKind.TRUNK_SERIES_RESISTANCE, FaultKind.MODULE_SHUNT, FaultKind.CONNECTOR_FAULT);
        if (random.nextInt(6) == 0) {
            return List.of(fault(random, truth, FaultKind.TRUNK_OPEN), fault(random, truth, FaultKind.SHORT_TO_GROUND));
        }
        return List.of(lost, fault(random, truth, seconds.get(random.nextInt(seconds.size()))));
    }

    private static Fault missing(String terminator) {
        return new Fault(FaultKind.TERMINATOR_MISSING, Optional.of(terminator), Optional.empty(), OptionalDouble.empty(), OptionalDouble.empty(),
                List.of());
    }

    /** What no list foresees. */
    private static List<Fault> odd(SplittableRandom random, Circuit truth) {
        return List.of(fault(random, truth, FaultKind.TERMINATOR_DRIFTED), fault(random, truth, FaultKind.MODULE_SHUNT),
                fault(random, truth, FaultKind.SHORT_TO_SUPPLY));
    }

    private static Fault fault(SplittableRandom random, Circuit truth, FaultKind kind) {
        List<Circuit.Node> nodes = truth.nodes().orElseThrow();
        Line line = switch (kind) {
            case SHORT_TO_GROUND, SHORT_TO_SUPPLY -> random.nextBoolean() ? Line.HIGH : Line.LOW;
            default -> Line.values()[random.nextInt(3)];
        };
        double ohm = switch (kind) {
            case TERMINATOR_DRIFTED -> random.nextInt(100) < 85 ? log(random, 123.6, 1200) : log(random, 60, 116.4);
            case EXTRA_TERMINATOR -> 120 * (1 + SimulatedBuild.TERMINATOR_SPREAD * random.nextGaussian());
            case TRUNK_SERIES_RESISTANCE, CONNECTOR_FAULT -> log(random, 1, 1e4);
            case MODULE_SHUNT -> log(random, 10, 1e4);
            default -> log(random, 0.1, 1e4);
        };
        boolean open = kind == FaultKind.CONNECTOR_FAULT && random.nextBoolean();
        Optional<String> part = switch (kind) {
            case TERMINATOR_MISSING, TERMINATOR_DRIFTED -> Optional.of(random.nextBoolean() ? "terminator-a" : "terminator-b");
            case MODULE_STUB, MODULE_SUPPLY, MODULE_SHUNT, MODULE_INTERNAL, REPORTER_ITSELF, SENDER_DATA ->
                Optional.of(nodes.get(random.nextInt(nodes.size())).module());
            default -> Optional.empty();
        };
        return new Fault(kind, part, Optional.of(line), open ? OptionalDouble.empty() : OptionalDouble.of(ohm),
                OptionalDouble.of(random.nextDouble(truth.trunkMetres().getAsDouble())), List.of());
    }

    private static double log(SplittableRandom random, double from, double to) {
        return SimulatedBuild.log(random, from, to);
    }

    /** What is measured in a case. */
    record Plan(boolean highLow, boolean ground, boolean supply, boolean volts, boolean rollCall, boolean codes) {
        static final Plan BENCH = new Plan(true, true, false, false, true, false);

        /** Data that nobody can tell from good data without a code is no case of a bus check. */
        static Plan draw(SplittableRandom random, Truth truth) {
            return new Plan(random.nextInt(10) < 9, random.nextInt(10) < 6, random.nextInt(10) < 3, random.nextInt(10) < 2, random.nextInt(10) < 6,
                    random.nextInt(10) < 4 || truth.kind == FaultKind.SENDER_DATA);
        }
    }

    static BusReadings read(SplittableRandom random, Truth truth, Plan plan) {
        Predicted predicted = BusModel.readings(truth.truth(), truth.faults(),
                new BusModel.Meter(plan.volts, truth.volts, LEAD_OHM, Optional.empty()));
        double gain = 1 + random.nextDouble(-GAIN, GAIN);
        double frames = truth.talk.dead() ? 0 : random.nextDouble(0, 0.25);
        boolean told = plan.volts || truth.kind == FaultKind.SUPPLY_LOW;
        return new BusReadings(false, only(plan.highLow, random, predicted.highLowOhm(), gain),
                only(plan.ground, random, predicted.highGroundOhm(), gain),
                only(plan.ground, random, predicted.lowGroundOhm(), gain), only(plan.supply, random, predicted.highSupplyOhm(), gain),
                only(plan.supply, random, predicted.lowSupplyOhm(), gain),
                told ? Optional.of(Quantity.of(Math.rint(truth.volts * 10) / 10, UnitOfMeasure.VOLT)) : Optional.empty(),
                volt(random, predicted.highVolt(), frames), volt(random, predicted.lowVolt(), -frames), OptionalDouble.empty(), Optional.empty(),
                Optional.empty());
    }

    private static Optional<Quantity> volt(SplittableRandom random, OptionalDouble volt, double frames) {
        return volt.isEmpty()
                ? Optional.empty()
                : Optional.of(Quantity.of(Math.rint(100 * (volt.getAsDouble() + frames + 0.02 * random.nextGaussian())) / 100, UnitOfMeasure.VOLT));
    }

    private static Optional<Reading> only(boolean made, SplittableRandom random, double ohm, double gain) {
        return made ? Optional.of(shown(random, ohm, gain)) : Optional.empty();
    }

    /** Common gain, counts of the range, and rounding. */
    static Reading shown(SplittableRandom random, double ohm, double gain) {
        if (Predicted.isOpen(ohm)) {
            return new OverRange(UnitOfMeasure.MEGOHM);
        }
        double count = count(ohm);
        double read = ohm * gain + random.nextDouble(-2 * count, 2 * count);
        return Quantity.of(Math.max(0, Math.rint(read / count) * count), UnitOfMeasure.OHM);
    }

    /** A display of four digits: 600.0 ohm, 6.000 kohm, and so on. */
    static double count(double ohm) {
        return ohm < 600 ? COUNT : COUNT * Math.pow(10, 1 + Math.floor(Math.log10(ohm / 600)));
    }

    static Evidence evidence(Truth truth, Plan plan) {
        return new Evidence(plan.rollCall ? Optional.of(truth.talk.rollCall()) : Optional.empty(),
                plan.codes ? Optional.of(truth.talk.codes()) : Optional.empty(), List.of(), List.of());
    }
}
