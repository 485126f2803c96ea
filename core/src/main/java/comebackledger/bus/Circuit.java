package comebackledger.bus;

import comebackledger.Require;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * One network as its build describes it; what is left out is unknown and makes answers wider. Metres count along the trunk from terminator a.
 *
 * @param wireOhmPerMetre of one conductor
 * @param terminators in the order of the trunk; empty: two of 120 ohm, one at each end
 * @param nodes in the order of the trunk; empty: nobody knows which modules there are
 * @param supplyToGroundOhm loads left between the disconnected positive cable and ground
 * @param nominalSupplyVolts 12 or 24; empty: told from the supply reading
 */
public record Circuit(String name, OptionalDouble trunkMetres, OptionalDouble wireOhmPerMetre, Optional<List<Terminator>> terminators,
        Optional<List<Node>> nodes, Optional<Connector> connector, OptionalDouble supplyToGroundOhm, OptionalDouble nominalSupplyVolts) {

    /** More modules than any trunk may carry (SAE J1939-11 allows 30, from memory); a bound on work. */
    static final int MOST_NODES = 200;
    private static final int MOST_TERMINATORS = 20;

    /** @param inside the module that carries it; @param split two halves with a capacitor from the middle to ground */
    public record Terminator(String name, OptionalDouble atMetres, double ohm, Optional<String> inside, boolean split) {
        public Terminator {
            Require.that(ohm > 0 && ohm <= 1e6, "a terminator's ohm must be above 0 and at most 1 000 000, was %s", ohm);
            length("a terminator's atMetres", atMetres);
        }
    }

    /** @param differentialOhm between the two pins; @param lineToGroundOhm of each pin; @param biasVolt behind {@code biasOhm}, power on */
    public record Node(String module, OptionalDouble atMetres, OptionalDouble stubMetres, OptionalDouble differentialOhm,
            OptionalDouble lineToGroundOhm, OptionalDouble biasVolt, OptionalDouble biasOhm) {
        public Node {
            length("a node's atMetres", atMetres);
            length("stubMetres", stubMetres);
            positive("differentialOhm", differentialOhm);
            positive("lineToGroundOhm", lineToGroundOhm);
            positive("biasOhm", biasOhm);
            Require.that(Math.abs(biasVolt.orElse(0)) <= 100, "biasVolt must be from -100 to 100, was %s", biasVolt.orElse(0));
        }

        public static Node named(String module) {
            OptionalDouble none = OptionalDouble.empty();
            return new Node(module, none, none, none, none, none, none);
        }

        /** Whether the build says what its input measures with the power off. */
        boolean hasInput() {
            return differentialOhm.isPresent() || lineToGroundOhm.isPresent();
        }
    }

    /** The diagnostic connector. */
    public record Connector(OptionalDouble atMetres, OptionalDouble stubMetres) {
        public Connector {
            length("the connector's atMetres", atMetres);
            length("the connector's stubMetres", stubMetres);
        }
    }

    public Circuit {
        length("trunkMetres", trunkMetres);
        Require.that(wireOhmPerMetre.orElse(0) >= 0 && wireOhmPerMetre.orElse(0) <= 10, "wireOhmPerMetre must be from 0 to 10, was %s",
                wireOhmPerMetre.orElse(0));
        positive("supplyToGroundOhm", supplyToGroundOhm);
        Require.that(nominalSupplyVolts.orElse(12) >= 6 && nominalSupplyVolts.orElse(12) <= 60, "nominalSupplyVolts must be from 6 to 60, was %s",
                nominalSupplyVolts.orElse(12));
        terminators = terminators.map(List::copyOf);
        nodes = nodes.map(List::copyOf);
        Require.that(terminators.orElse(List.of()).size() <= MOST_TERMINATORS, "a trunk has at most %s terminators", MOST_TERMINATORS);
        Require.that(nodes.orElse(List.of()).size() <= MOST_NODES, "a trunk has at most %s nodes", MOST_NODES);
        Set<String> names = new HashSet<>();
        for (Node node : nodes.orElse(List.of())) {
            Require.that(names.add(node.module()), "module %s stands twice on the trunk", node.module());
        }
    }

    /** A network of which nothing is known but its name. */
    public static Circuit unknown(String name) {
        OptionalDouble none = OptionalDouble.empty();
        return new Circuit(name, none, none, Optional.empty(), Optional.empty(), Optional.empty(), none, none);
    }

    /** The same circuit with these nodes. */
    Circuit withNodes(List<Node> other) {
        return new Circuit(name, trunkMetres, wireOhmPerMetre, terminators, Optional.of(other), connector, supplyToGroundOhm, nominalSupplyVolts);
    }

    /** The same circuit with this load left on the positive cable. */
    Circuit withSupplyToGroundOhm(double ohm) {
        return new Circuit(name, trunkMetres, wireOhmPerMetre, terminators, nodes, connector, OptionalDouble.of(ohm), nominalSupplyVolts);
    }

    private static void length(String name, OptionalDouble metres) {
        Require.that(metres.orElse(0) >= 0 && metres.orElse(0) <= 10_000, "%s must be from 0 to 10 000 m, was %s", name, metres.orElse(0));
    }

    private static void positive(String name, OptionalDouble ohm) {
        Require.that(ohm.orElse(1) > 0 && ohm.orElse(1) <= 1e9, "%s must be above 0 and at most 1e9 ohm, was %s", name, ohm.orElse(1));
    }
}
