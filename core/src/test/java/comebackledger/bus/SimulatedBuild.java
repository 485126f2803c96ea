package comebackledger.bus;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;

/** Networks by chance: how much of each the fleet was told, and what the parts are in truth. Invented, within what a truck may carry. */
final class SimulatedBuild {
    static final double TERMINATOR_SPREAD = 0.012;
    private static final OptionalDouble NONE = OptionalDouble.empty();

    /** How much of a build is told. */
    enum Known {
        /** Every input, every metre. */
        ALL,
        /** Modules and metres, no inputs and no wire. */
        PLACES,
        /** The modules in their order; terminators, metres, wire and connector are anybody's guess. */
        ORDER,
        /** A name. */
        NOTHING
    }

    private SimulatedBuild() {}

    static Circuit told(SplittableRandom random, int count, Known known) {
        OptionalDouble volts = OptionalDouble.of(random.nextInt(3) == 0 ? 24 : 12);
        if (known == Known.NOTHING) {
            return new Circuit("j1939-1", NONE, NONE, Optional.empty(), Optional.empty(), Optional.empty(), NONE, volts);
        }
        double metres = random.nextDouble(10, 40);
        double[] at = random.doubles(count, 0.5, metres - 0.5).sorted().toArray();
        Optional<String> inside = random.nextInt(3) == 0 ? Optional.of("module-" + (count - 1)) : Optional.empty();
        at[count - 1] = inside.isPresent() ? metres : at[count - 1];
        boolean placed = known != Known.ORDER;
        boolean grounded = random.nextInt(3) == 0;
        List<Circuit.Node> nodes = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            boolean inputs = known == Known.ALL;
            nodes.add(new Circuit.Node("module-" + i, placed ? OptionalDouble.of(at[i]) : NONE, placed ? OptionalDouble.of(0.5) : NONE,
                    inputs ? OptionalDouble.of(random.nextDouble(1e4, 1e5)) : NONE,
                    inputs && grounded ? OptionalDouble.of(random.nextDouble(1e4, 5e4)) : NONE, NONE, NONE));
        }
        if (!placed) {
            return new Circuit("j1939-1", NONE, NONE, Optional.empty(), Optional.of(nodes), Optional.empty(), NONE, volts);
        }
        List<Circuit.Terminator> terminators = List.of(
                new Circuit.Terminator("terminator-a", OptionalDouble.of(0), 120, Optional.empty(), random.nextInt(6) == 0),
                new Circuit.Terminator("terminator-b", OptionalDouble.of(metres), 120, inside, false));
        return new Circuit("j1939-1", OptionalDouble.of(metres), known == Known.ALL ? OptionalDouble.of(0.021) : NONE, Optional.of(terminators),
                Optional.of(nodes), Optional.of(new Circuit.Connector(OptionalDouble.of(random.nextDouble(0, metres)), OptionalDouble.of(0.5))),
                random.nextBoolean() ? OptionalDouble.of(log(random, 5, 100)) : NONE, volts);
    }

    /** Every part with a value of its own; what was not told may be anything. */
    static Circuit truth(SplittableRandom random, Circuit told) {
        double metres = told.trunkMetres().orElseGet(() -> log(random, 5, 40));
        double wire = told.wireOhmPerMetre().orElseGet(() -> log(random, 0.0132, 0.034));
        List<Circuit.Terminator> ends = told.terminators().orElse(List.of(
                new Circuit.Terminator("terminator-a", OptionalDouble.of(0), 120, Optional.empty(), false),
                new Circuit.Terminator("terminator-b", OptionalDouble.of(metres), 120, Optional.empty(), false)));
        List<Circuit.Terminator> terminators = ends.stream().map(one -> new Circuit.Terminator(one.name(), one.atMetres(),
                one.ohm() * (1 + TERMINATOR_SPREAD * random.nextGaussian()), one.inside(), one.split())).toList();
        int count = told.nodes().map(List::size).orElseGet(() -> random.nextInt(2, 15));
        double[] at = random.doubles(count, 0.02 * metres, 0.98 * metres).sorted().toArray();
        boolean floating = random.nextBoolean();
        List<Circuit.Node> nodes = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            Circuit.Node node = told.nodes().isPresent() ? told.nodes().get().get(i) : Circuit.Node.named("module-" + i);
            OptionalDouble toGround = node.hasInput() || floating ? node.lineToGroundOhm() : OptionalDouble.of(log(random, 5e3, 5e4));
            double input = random.nextDouble(1e4, 1e5);
            OptionalDouble differential = node.hasInput() ? node.differentialOhm() : floating ? OptionalDouble.of(input) : NONE;
            nodes.add(new Circuit.Node(node.module(), OptionalDouble.of(node.atMetres().orElse(at[i])),
                    OptionalDouble.of(node.stubMetres().orElse(0.5)),
                    differential, toGround, OptionalDouble.of(2.5), OptionalDouble.of(random.nextDouble(1.5e4, 5e4))));
        }
        Circuit.Connector connector = told.connector()
                .orElseGet(() -> new Circuit.Connector(OptionalDouble.of(random.nextDouble(0, metres)), OptionalDouble.of(0.5)));
        return new Circuit(told.name(), OptionalDouble.of(metres), OptionalDouble.of(wire), Optional.of(terminators), Optional.of(nodes),
                Optional.of(connector), told.supplyToGroundOhm(), told.nominalSupplyVolts());
    }

    /** Alike over the decades. */
    static double log(SplittableRandom random, double from, double to) {
        return from * Math.pow(to / from, random.nextDouble());
    }
}
