package comebackledger.bus;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;

/** Trunks and faults by chance, within what a truck may carry. */
final class RandomTrunk {
    private RandomTrunk() {}

    static Circuit circuit(SplittableRandom random) {
        double metres = random.nextDouble(5, 40);
        int count = random.nextInt(1, 12);
        double[] at = random.doubles(count, 0.1, metres - 0.1).sorted().toArray();
        List<Circuit.Node> nodes = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            boolean grounded = random.nextBoolean();
            nodes.add(new Circuit.Node("module-" + i, OptionalDouble.of(at[i]), OptionalDouble.of(random.nextDouble(0, 1)),
                    OptionalDouble.of(random.nextDouble(1e4, 1e5)),
                    grounded ? OptionalDouble.of(random.nextDouble(5e3, 5e4)) : OptionalDouble.empty(),
                    OptionalDouble.of(2.5), OptionalDouble.of(random.nextDouble(1.5e4, 5e4))));
        }
        Optional<String> carrier = random.nextBoolean() ? Optional.of("module-" + (count - 1)) : Optional.empty();
        List<Circuit.Terminator> terminators = List.of(
                new Circuit.Terminator("terminator-a", OptionalDouble.of(0), 120, Optional.empty(), random.nextBoolean()),
                new Circuit.Terminator("terminator-b", OptionalDouble.of(metres), 120, carrier, random.nextBoolean()));
        return new Circuit("trunk", OptionalDouble.of(metres), OptionalDouble.of(random.nextDouble(0.01, 0.04)), Optional.of(terminators),
                Optional.of(nodes), Optional.of(new Circuit.Connector(OptionalDouble.of(random.nextDouble(0, metres)), OptionalDouble.of(0.5))),
                random.nextBoolean() ? OptionalDouble.of(random.nextDouble(1, 100)) : OptionalDouble.empty(), OptionalDouble.empty());
    }

    static List<Fault> shortBetweenLines(double metres, double ohm) {
        return List
                .of(new Fault(FaultKind.TRUNK_SHORT_HIGH_LOW, Optional.empty(), Optional.empty(), OptionalDouble.of(ohm), OptionalDouble.of(metres),
                        List.of()));
    }

    /** One or two of the faults that change a reading. */
    static List<Fault> faults(SplittableRandom random, Circuit circuit) {
        List<Fault> faults = new ArrayList<>();
        int count = random.nextInt(1, 3);
        while (faults.size() < count) {
            faults.add(fault(random, circuit));
        }
        return faults.stream().map(Fault::part).distinct().count() < faults.size() && faults.get(0).part().isPresent()
                ? faults.subList(0, 1)
                : faults;
    }

    private static Fault fault(SplittableRandom random, Circuit circuit) {
        List<FaultKind> kinds = List.of(FaultKind.TERMINATOR_MISSING, FaultKind.TERMINATOR_DRIFTED, FaultKind.EXTRA_TERMINATOR, FaultKind.TRUNK_OPEN,
                FaultKind.TRUNK_SERIES_RESISTANCE, FaultKind.TRUNK_SHORT_HIGH_LOW, FaultKind.SHORT_TO_GROUND, FaultKind.SHORT_TO_SUPPLY,
                FaultKind.CONNECTOR_FAULT, FaultKind.MODULE_SHUNT, FaultKind.MODULE_STUB);
        FaultKind kind = kinds.get(random.nextInt(kinds.size()));
        Line line = Line.values()[random.nextInt(kind == FaultKind.SHORT_TO_GROUND || kind == FaultKind.SHORT_TO_SUPPLY ? 4 : 3)];
        Optional<String> part = switch (kind) {
            case TERMINATOR_MISSING, TERMINATOR_DRIFTED, SHORT_TO_GROUND, SHORT_TO_SUPPLY ->
                Optional.of("terminator-" + "ab".charAt(random.nextInt(2)));
            case MODULE_SHUNT, MODULE_STUB ->
                Optional.of(circuit.nodes().orElseThrow().get(random.nextInt(circuit.nodes().orElseThrow().size())).module());
            default -> Optional.empty();
        };
        double ohm = Math.pow(10, random.nextDouble(-1, 4));
        return new Fault(kind, part, Optional.of(line), OptionalDouble.of(ohm),
                OptionalDouble.of(random.nextDouble(0, circuit.trunkMetres().getAsDouble())), List.of());
    }

    static Circuit turned(Circuit circuit) {
        double metres = circuit.trunkMetres().getAsDouble();
        List<Circuit.Node> nodes = circuit.nodes().orElseThrow().reversed().stream().map(node -> new Circuit.Node(node.module(),
                OptionalDouble.of(metres - node.atMetres().getAsDouble()), node.stubMetres(), node.differentialOhm(), node.lineToGroundOhm(),
                node.biasVolt(), node.biasOhm())).toList();
        List<Circuit.Terminator> terminators = circuit.terminators().orElseThrow().reversed().stream()
                .map(terminator -> new Circuit.Terminator(terminator.name(), OptionalDouble.of(metres - terminator.atMetres().getAsDouble()),
                        terminator.ohm(), terminator.inside(), terminator.split()))
                .toList();
        Circuit.Connector connector = circuit.connector().orElseThrow();
        return new Circuit(circuit.name(), circuit.trunkMetres(), circuit.wireOhmPerMetre(), Optional.of(terminators), Optional.of(nodes),
                Optional.of(new Circuit.Connector(OptionalDouble.of(metres - connector.atMetres().getAsDouble()), connector.stubMetres())),
                circuit.supplyToGroundOhm(), circuit.nominalSupplyVolts());
    }
}
