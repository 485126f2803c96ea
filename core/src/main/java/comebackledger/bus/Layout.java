package comebackledger.bus;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** Where everything sits along the trunk; positions that the build does not tell lie evenly between those it tells. */
final class Layout {
    /** What a build without terminators has (SAE J1939-11, from memory). */
    private static final double NOMINAL_OHM = 120;

    final Circuit circuit;
    final List<Circuit.Terminator> terminators;
    final List<Circuit.Node> nodes;
    final double metres;
    final double wireOhmPerMetre;
    final boolean connectorKnown;
    final double connectorMetres;
    final double[] nodeMetres;
    final double[] terminatorMetres;
    /** In order; the first stands at 0 m and the last at the end. */
    final List<Tap> taps;
    private final List<Gap> gaps;
    private final int connectorTap;
    private final int[] nodeTaps;

    Layout(Circuit circuit, Assumed assumed) {
        this.circuit = circuit;
        this.nodes = circuit.nodes().orElse(List.of());
        this.metres = metres(circuit, assumed.metres());
        this.wireOhmPerMetre = circuit.wireOhmPerMetre().orElse(assumed.wireOhmPerMetre()) * assumed.wireFactor();
        this.terminators = circuit.terminators().orElse(List.of(pair("terminator-a", 0), pair("terminator-b", metres)));
        this.nodeMetres = nodePositions();
        this.terminatorMetres = terminatorPositions();
        Optional<Circuit.Connector> connector = circuit.connector();
        this.connectorKnown = connector.isPresent() && connector.get().atMetres().isPresent();
        this.connectorMetres = connector.flatMap(at -> boxed(at.atMetres())).orElse(metres / 2);
        this.taps = taps(connector.map(at -> at.stubMetres().orElse(0)).orElse(0.0));
        this.gaps = findGaps();
        this.connectorTap = indexOf(Tap::connector);
        this.nodeTaps = new int[nodes.size()];
        for (int i = 0; i < nodeTaps.length; i++) {
            int node = i;
            nodeTaps[i] = indexOf(tap -> tap.node() == node);
        }
    }

    private static Circuit.Terminator pair(String name, double metres) {
        return new Circuit.Terminator(name, OptionalDouble.of(metres), NOMINAL_OHM, Optional.empty(), false);
    }

    private static Optional<Double> boxed(OptionalDouble value) {
        return value.isPresent() ? Optional.of(value.getAsDouble()) : Optional.empty();
    }

    /** The told length, but never less than the farthest thing on it. */
    private static double metres(Circuit circuit, double assumed) {
        double farthest = circuit.connector().map(at -> at.atMetres().orElse(0)).orElse(0.0);
        for (Circuit.Node node : circuit.nodes().orElse(List.of())) {
            farthest = Math.max(farthest, node.atMetres().orElse(0));
        }
        for (Circuit.Terminator terminator : circuit.terminators().orElse(List.of())) {
            farthest = Math.max(farthest, terminator.atMetres().orElse(0));
        }
        double told = circuit.trunkMetres().orElse(farthest > 0 ? farthest : assumed);
        return Math.max(told > 0 ? told : assumed, farthest);
    }

    private double[] nodePositions() {
        double[] at = new double[nodes.size()];
        int next = 0;
        double from = 0;
        for (int i = 0; i < at.length; i++) {
            if (nodes.get(i).atMetres().isPresent()) {
                at[i] = nodes.get(i).atMetres().getAsDouble();
            } else {
                if (i >= next) {
                    next = i;
                    while (next < at.length && nodes.get(next).atMetres().isEmpty()) {
                        next++;
                    }
                }
                double to = next < at.length ? nodes.get(next).atMetres().getAsDouble() : metres;
                at[i] = from + (to - from) / (next - i + 1);
            }
            from = at[i];
        }
        return at;
    }

    private double[] terminatorPositions() {
        double[] at = new double[terminators.size()];
        for (int i = 0; i < at.length; i++) {
            Circuit.Terminator terminator = terminators.get(i);
            int carrier = terminator.inside().map(this::node).orElse(Tap.NONE);
            double evenly = at.length == 1 ? 0 : metres * i / (at.length - 1);
            at[i] = carrier != Tap.NONE ? nodeMetres[carrier] : terminator.atMetres().orElse(evenly);
        }
        return at;
    }

    private List<Tap> taps(double connectorStubMetres) {
        List<Tap> found = new ArrayList<>(List.of(Tap.end(0), Tap.end(metres)));
        for (int i = 0; i < nodes.size(); i++) {
            found.add(new Tap(nodeMetres[i], i, Tap.NONE, false, nodes.get(i).stubMetres().orElse(0) * wireOhmPerMetre));
        }
        for (int i = 0; i < terminators.size(); i++) {
            if (!isInside(i)) {
                found.add(new Tap(terminatorMetres[i], Tap.NONE, i, false, 0));
            }
        }
        found.add(new Tap(connectorMetres, Tap.NONE, Tap.NONE, true, connectorStubMetres * wireOhmPerMetre));
        found.sort(Comparator.comparingDouble(Tap::metres).thenComparingInt(tap -> tap.order(metres)));
        return List.copyOf(found);
    }

    /** Whether a module of this build carries the terminator; one inside a module that the build does not name stands by itself. */
    boolean isInside(int terminator) {
        return terminators.get(terminator).inside().map(this::node).orElse(Tap.NONE) != Tap.NONE;
    }

    /** Whether a terminator sits inside a module. */
    boolean carries(int node) {
        return terminators.stream().anyMatch(one -> one.inside().equals(Optional.of(nodes.get(node).module())));
    }

    /** The number of a module, or {@link Tap#NONE}. */
    int node(String module) {
        for (int i = 0; i < nodes.size(); i++) {
            if (nodes.get(i).module().equals(module)) {
                return i;
            }
        }
        return Tap.NONE;
    }

    /** The number of a terminator, or {@link Tap#NONE}. */
    int terminator(String name) {
        for (int i = 0; i < terminators.size(); i++) {
            if (terminators.get(i).name().equals(name)) {
                return i;
            }
        }
        return Tap.NONE;
    }

    int tapOfNode(int node) {
        return nodeTaps[node];
    }

    int tapOfTerminator(int terminator) {
        return isInside(terminator)
                ? tapOfNode(node(terminators.get(terminator).inside().orElseThrow()))
                : indexOf(tap -> tap.terminator() == terminator);
    }

    int tapOfConnector() {
        return connectorTap;
    }

    private int indexOf(java.util.function.Predicate<Tap> wanted) {
        for (int i = 0; i < taps.size(); i++) {
            if (wanted.test(taps.get(i))) {
                return i;
            }
        }
        throw new IllegalArgumentException("no such tap on " + circuit.name());
    }

    /** The last tap at or before a distance: a fault there sits behind it. */
    int tapBefore(double atMetres) {
        int found = taps.size() - 1;
        while (found > 0 && taps.get(found).metres() > atMetres) {
            found--;
        }
        return found;
    }

    /** The stretches between neighbours: modules, and terminators of their own. */
    List<Gap> gaps() {
        return gaps;
    }

    private List<Gap> findGaps() {
        Tap[] named = taps.stream().filter(tap -> tap.node() != Tap.NONE || tap.terminator() != Tap.NONE).toArray(Tap[]::new);
        List<Gap> gaps = new ArrayList<>();
        for (int i = 0; i + 1 < named.length; i++) {
            gaps.add(new Gap(name(named[i]), name(named[i + 1]), named[i].metres(), named[i + 1].metres()));
        }
        if (gaps.isEmpty()) {
            gaps.add(new Gap("", "", 0, metres));
        }
        return List.copyOf(gaps);
    }

    private String name(Tap tap) {
        return tap.node() != Tap.NONE ? nodes.get(tap.node()).module() : terminators.get(tap.terminator()).name();
    }

    /** One stretch of the trunk, named by the neighbours it lies between; without names where the build has none. */
    record Gap(String from, String to, double fromMetres, double toMetres) {
        double metres() {
            return toMetres - fromMetres;
        }

        double middle() {
            return (fromMetres + toMetres) / 2;
        }

        List<String> between() {
            return from.isEmpty() ? List.of() : List.of(from, to);
        }
    }

    /** Half-way between two named neighbours, if both are on the trunk. */
    OptionalDouble between(List<String> names) {
        double[] at = names.stream().mapToDouble(this::metresOf).toArray();
        return at.length == 2 && Arrays.stream(at).allMatch(metre -> metre >= 0) ? OptionalDouble.of((at[0] + at[1]) / 2) : OptionalDouble.empty();
    }

    private double metresOf(String part) {
        int node = node(part);
        int terminator = terminator(part);
        return node != Tap.NONE ? nodeMetres[node] : terminator != Tap.NONE ? terminatorMetres[terminator] : -1;
    }
}
