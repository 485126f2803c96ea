package comebackledger.bus;

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

/**
 * A network that is drawn by chance, a fault drawn from the odds, and what a technician would read there: terminators and inputs off their
 * nominal values, a meter with its bound and its counts, modules that answer or do not.
 */
final class Simulated {
    private static final double GAIN = 0.008;
    private static final double COUNT = 0.1;
    private static final double TERMINATOR = 0.012;

    /** @param told the build as the fleet knows it; @param truth the same with every part's own value; @param part where the fault is */
    record Truth(Circuit told, Circuit truth, FaultKind kind, Optional<String> part, List<Fault> faults, boolean[] silent) {}

    private Simulated() {}

    /** @param known the build tells inputs and wire; else some of it is left out */
    static Circuit build(SplittableRandom random, int nodes, boolean known) {
        double metres = random.nextDouble(10, 40);
        double[] at = random.doubles(nodes, 0.5, metres - 0.5).sorted().toArray();
        List<Circuit.Node> list = new ArrayList<>();
        OptionalDouble none = OptionalDouble.empty();
        for (int i = 0; i < nodes; i++) {
            OptionalDouble input = known ? OptionalDouble.of(random.nextDouble(2e4, 9e4)) : none;
            list.add(new Circuit.Node("module-" + i, OptionalDouble.of(at[i]), OptionalDouble.of(0.5), input, none, none, none));
        }
        Optional<String> inside = random.nextInt(3) == 0 ? Optional.of("module-" + (nodes - 1)) : Optional.empty();
        return new Circuit("j1939-1", OptionalDouble.of(metres), OptionalDouble.of(0.021),
                Optional.of(List.of(new Circuit.Terminator("terminator-a", OptionalDouble.of(0), 120, Optional.empty(), false),
                        new Circuit.Terminator("terminator-b", OptionalDouble.of(metres), 120, inside, false))),
                Optional.of(list), Optional.of(new Circuit.Connector(OptionalDouble.of(random.nextDouble(0, metres)), OptionalDouble.of(0.5))), none,
                none);
    }

    /** Every part with a value of its own. */
    static Circuit truth(SplittableRandom random, Circuit told) {
        List<Circuit.Terminator> terminators = told.terminators().orElseThrow().stream().map(one -> new Circuit.Terminator(one.name(), one.atMetres(),
                one.ohm() * (1 + TERMINATOR * random.nextGaussian()), one.inside(), one.split())).toList();
        List<Circuit.Node> nodes = told.nodes().orElseThrow().stream()
                .map(one -> new Circuit.Node(one.module(), one.atMetres(), one.stubMetres(),
                        OptionalDouble.of(one.differentialOhm().orElseGet(() -> random.nextDouble(1e4, 1e5))), one.lineToGroundOhm(), one.biasVolt(),
                        one.biasOhm()))
                .toList();
        return new Circuit(told.name(), told.trunkMetres(), told.wireOhmPerMetre(), Optional.of(terminators), Optional.of(nodes), told.connector(),
                told.supplyToGroundOhm(), told.nominalSupplyVolts());
    }

    /** A single fault from the odds; supply and data faults, which no meter sees, left out. */
    static Truth draw(SplittableRandom random, Circuit told) {
        List<FaultKind> kinds = List.of(FaultKind.NONE_FOUND, FaultKind.TERMINATOR_MISSING, FaultKind.TRUNK_OPEN, FaultKind.SHORT_TO_GROUND,
                FaultKind.TRUNK_SHORT_HIGH_LOW, FaultKind.EXTRA_TERMINATOR, FaultKind.SHORT_TO_SUPPLY, FaultKind.TRUNK_SERIES_RESISTANCE,
                FaultKind.CONNECTOR_FAULT, FaultKind.MODULE_STUB, FaultKind.MODULE_SUPPLY, FaultKind.TERMINATOR_DRIFTED, FaultKind.MODULE_SHUNT,
                FaultKind.MODULE_INTERNAL);
        Map<FaultKind, Double> odds = FaultOdds.DEFAULT.weights();
        double at = random.nextDouble(kinds.stream().mapToDouble(odds::get).sum());
        for (FaultKind kind : kinds) {
            at -= odds.get(kind);
            if (at < 0) {
                return of(random, told, kind);
            }
        }
        return of(random, told, FaultKind.NONE_FOUND);
    }

    static Truth of(SplittableRandom random, Circuit told, FaultKind kind) {
        List<Circuit.Node> nodes = told.nodes().orElseThrow();
        String module = nodes.get(random.nextInt(nodes.size())).module();
        String terminator = random.nextBoolean() ? "terminator-a" : "terminator-b";
        Line line = switch (kind) {
            case SHORT_TO_GROUND, SHORT_TO_SUPPLY -> random.nextBoolean() ? Line.HIGH : Line.LOW;
            default -> Line.values()[random.nextInt(3)];
        };
        double ohm = switch (kind) {
            case TERMINATOR_DRIFTED -> random.nextInt(100) < 85 ? log(random, 123.6, 1200) : log(random, 60, 116.4);
            case EXTRA_TERMINATOR -> 120 * (1 + TERMINATOR * random.nextGaussian());
            case TRUNK_SERIES_RESISTANCE, CONNECTOR_FAULT -> log(random, 1, 1e4);
            case MODULE_SHUNT -> log(random, 10, 1e4);
            default -> log(random, 0.1, 1e4);
        };
        boolean open = kind == FaultKind.CONNECTOR_FAULT && random.nextBoolean();
        Optional<String> part = switch (kind) {
            case TERMINATOR_MISSING, TERMINATOR_DRIFTED -> Optional.of(terminator);
            case MODULE_STUB, MODULE_SUPPLY, MODULE_SHUNT, MODULE_INTERNAL -> Optional.of(module);
            default -> Optional.empty();
        };
        double metres = random.nextDouble(told.trunkMetres().getAsDouble());
        Fault fault = new Fault(kind, part, Optional.of(line), open ? OptionalDouble.empty() : OptionalDouble.of(ohm), OptionalDouble.of(metres),
                List.of());
        List<Fault> faults = kind == FaultKind.NONE_FOUND ? List.of() : List.of(fault);
        Optional<String> place = switch (kind) {
            case NONE_FOUND -> Optional.empty();
            case CONNECTOR_FAULT -> Optional.of("connector");
            default -> part.or(() -> Optional.of("trunk"));
        };
        return new Truth(told, truth(random, told), kind, place, faults, silent(random, told, fault, open));
    }

    private static double log(SplittableRandom random, double from, double to) {
        return from * Math.pow(to / from, random.nextDouble());
    }

    /** Who stays silent: cut off, dead, or all of them on a dead bus. */
    private static boolean[] silent(SplittableRandom random, Circuit told, Fault fault, boolean open) {
        List<Circuit.Node> nodes = told.nodes().orElseThrow();
        double connector = told.connector().orElseThrow().atMetres().getAsDouble();
        double ohm = fault.ohm().orElse(1e9);
        boolean[] silent = new boolean[nodes.size()];
        for (int i = 0; i < silent.length; i++) {
            double at = nodes.get(i).atMetres().getAsDouble();
            boolean beyond = at > fault.atMetres().getAsDouble() != connector > fault.atMetres().getAsDouble();
            silent[i] = switch (fault.kind()) {
                case TRUNK_OPEN -> beyond;
                case TRUNK_SERIES_RESISTANCE -> beyond && ohm > 250;
                case TRUNK_SHORT_HIGH_LOW, MODULE_SHUNT -> ohm < 30;
                case SHORT_TO_GROUND -> ohm < 100;
                case SHORT_TO_SUPPLY -> ohm < 1000;
                case CONNECTOR_FAULT -> open || ohm > 250;
                case MODULE_STUB, MODULE_SUPPLY, MODULE_INTERNAL -> nodes.get(i).module().equals(fault.part().orElseThrow());
                default -> false;
            } || random.nextInt(200) == 0;
        }
        return silent;
    }

    /** What is measured in a case. */
    record Plan(boolean ground, boolean supply, boolean rollCall) {
        static Plan draw(SplittableRandom random) {
            return new Plan(random.nextInt(10) < 7, random.nextInt(10) < 3, random.nextInt(10) < 7);
        }
    }

    static BusReadings read(SplittableRandom random, Truth truth, Plan plan) {
        Predicted predicted = BusModel.readings(truth.truth(), truth.faults(), new BusModel.Meter(false, 0, 0.2, Optional.empty()));
        double gain = 1 + random.nextDouble(-GAIN, GAIN);
        return new BusReadings(false, Optional.of(shown(random, predicted.highLowOhm(), gain)),
                plan.ground ? Optional.of(shown(random, predicted.highGroundOhm(), gain)) : Optional.empty(),
                plan.ground ? Optional.of(shown(random, predicted.lowGroundOhm(), gain)) : Optional.empty(),
                plan.supply ? Optional.of(shown(random, predicted.highSupplyOhm(), gain)) : Optional.empty(),
                plan.supply ? Optional.of(shown(random, predicted.lowSupplyOhm(), gain)) : Optional.empty(), Optional.empty(), Optional.empty(),
                Optional.empty(), OptionalDouble.empty(), Optional.empty(), Optional.empty());
    }

    static Reading shown(SplittableRandom random, double ohm, double gain) {
        if (Predicted.isOpen(ohm)) {
            return new OverRange(UnitOfMeasure.MEGOHM);
        }
        double read = ohm * gain + random.nextDouble(-2 * COUNT, 2 * COUNT);
        return Quantity.of(Math.max(0, Math.rint(read / COUNT) * COUNT), UnitOfMeasure.OHM);
    }

    static Evidence evidence(Truth truth, Plan plan) {
        if (!plan.rollCall) {
            return Evidence.NONE;
        }
        List<String> answered = new ArrayList<>();
        List<String> silent = new ArrayList<>();
        for (int i = 0; i < truth.silent().length; i++) {
            (truth.silent()[i] ? silent : answered).add(truth.told().nodes().orElseThrow().get(i).module());
        }
        return new Evidence(Optional.of(new RollCall(answered, silent)), Optional.empty(), List.of(), List.of());
    }
}
