package comebackledger.bus;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * What healthy parts of this build give between the lines, and what a reading beyond that is equal to.
 *
 * <p>The range holds terminators at both ends of their tolerance, inputs as told or from 10 to 100 kohm between a module's pins (ISO 11898-2,
 * from memory), wire and leads. An input count that nobody told runs from none to 30 (SAE J1939-11, from memory).
 */
final class Expectation {
    private static final double LEAST_INPUT_OHM = 10_000;
    private static final double MOST_INPUT_OHM = 100_000;
    /** SAE J1939-11 allows 30 nodes (from memory). */
    private static final int MOST_NODES = 30;
    private static final String FROM_BUILD = "terminator tolerance of the policy; inputs of 10 to 100 kohm per module (ISO 11898-2, from memory)";
    private static final String FROM_POLICY = "fixed range of the fleet's policy";

    private final Circuit circuit;
    private final CheckPolicy policy;
    private final BusReadings readings;
    private final double leadOhm;
    private final Trunk nominal;

    Expectation(Circuit circuit, BusReadings readings, CheckPolicy policy) {
        this.circuit = circuit;
        this.policy = policy;
        this.readings = readings;
        this.leadOhm = readings.leadOhm().orElse(policy.leadOhm());
        this.nominal = new Trunk(circuit, Assumed.NOTHING, false, 0);
    }

    BusVerdict.Expected range() {
        double atNominal = ohm(nominal.healthy(), nominal);
        if (policy.highLowOhm().isPresent()) {
            CheckPolicy.Range fixed = policy.highLowOhm().get();
            return new BusVerdict.Expected(fixed.low(), atNominal, fixed.high(), FROM_POLICY);
        }
        return new BusVerdict.Expected(limit(1 - policy.terminatorTolerance(), LEAST_INPUT_OHM, MOST_NODES),
                atNominal, limit(1 + policy.terminatorTolerance(), MOST_INPUT_OHM, 0), FROM_BUILD);
    }

    private double limit(double factor, double inputOhm, int unknownNodes) {
        int count = circuit.terminators().map(List::size).orElse(2);
        Assumed assumed = new Assumed(20, 0, 0, inputOhm, Mesh.OPEN, 1, 0, java.util.Collections.nCopies(count, factor), 1, 1);
        Trunk trunk = new Trunk(circuit, assumed, false, 0);
        Trunk.Laid laid = trunk.healthy();
        if (circuit.nodes().isEmpty() && unknownNodes > 0) {
            Mesh inputs = new Mesh();
            inputs.highLow = unknownNodes / inputOhm;
            laid.across(trunk.layout.connectorMetres, inputs);
        }
        return ohm(laid, trunk);
    }

    private double ohm(Trunk.Laid laid, Trunk trunk) {
        return seen(laid, trunk).highLowOhm() + leadOhm;
    }

    private Mesh seen(Trunk.Laid laid, Trunk trunk) {
        int node = readings.atModule().map(trunk.layout::node).orElse(Tap.NONE);
        return node == Tap.NONE ? laid.atConnector() : laid.atModule(node);
    }

    /**
     * The whole number of terminators that gives the reading, if one does: terminators at the tolerance, inputs and the meter's bound counted.
     */
    OptionalInt terminatorsSeen(double shownOhm) {
        double each = nominal.layout.terminators.isEmpty() ? 120 : nominal.terminatorOhm(0);
        if (Predicted.isOpen(shownOhm)) {
            return OptionalInt.of(0);
        }
        int nodes = circuit.nodes().map(List::size).orElse(MOST_NODES);
        double most = 0;
        double least = 0;
        for (int i = 0; i < nodes; i++) {
            Optional<Circuit.Node> node = circuit.nodes().isPresent() ? Optional.of(circuit.nodes().get().get(i)) : Optional.empty();
            boolean told = node.map(Circuit.Node::hasInput).orElse(false);
            most += told ? siemens(node.orElseThrow()) : 1 / LEAST_INPUT_OHM;
            least += told ? siemens(node.orElseThrow()) : circuit.nodes().isPresent() ? 1 / MOST_INPUT_OHM : 0;
        }
        BusReadings.Meter meter = readings.meter().orElse(policy.meter());
        double error = meter.relativeAccuracy() * shownOhm + 2 * meter.digitOhm();
        double wire = 2 * nominal.layout.metres * nominal.layout.wireOhmPerMetre;
        double low = Math.max(shownOhm - leadOhm - error - wire, 1e-3);
        double high = shownOhm - leadOhm + error;
        double tolerance = policy.terminatorTolerance();
        double nearest = Math.max(0, Math.rint((2 / (low + high) - (most + least) / 2) * each));
        double leastSeen = (1 / high - most) * each * (1 - tolerance);
        double mostSeen = (1 / low - least) * each * (1 + tolerance);
        return nearest >= leastSeen && nearest <= mostSeen && nearest <= 20 ? OptionalInt.of((int) nearest) : OptionalInt.empty();
    }

    private static double siemens(Circuit.Node node) {
        return (node.differentialOhm().isPresent() ? 1 / node.differentialOhm().getAsDouble() : 0)
                + (node.lineToGroundOhm().isPresent() ? 0.5 / node.lineToGroundOhm().getAsDouble() : 0);
    }

    /** On the build as told, unknown parts left out. */
    Optional<BusVerdict.Equivalents> equivalents(double shownOhm) {
        double healthy = ohm(nominal.healthy(), nominal);
        if (Predicted.isOpen(shownOhm) || Predicted.isOpen(healthy) || Math.abs(shownOhm - healthy) < 1e-9) {
            return Optional.empty();
        }
        OptionalDouble none = OptionalDouble.empty();
        if (shownOhm < healthy) {
            double stub = readings.atModule().isPresent() ? 0 : 2 * nominal.layout.taps.get(nominal.layout.tapOfConnector()).stubOhm();
            double seen = Math.max(shownOhm - leadOhm - stub, 0);
            double shunt = 1 / (1 / Math.max(seen, 1e-9) - 1 / (healthy - leadOhm - stub));
            return Optional.of(new BusVerdict.Equivalents(OptionalDouble.of(Math.max(shunt, 0)), none, none));
        }
        return Optional.of(new BusVerdict.Equivalents(none, seriesInTrunk(shownOhm), OptionalDouble.of(shownOhm - healthy)));
    }

    /** One joint between the connector and terminator b: the rest of the reading's conductance is what still comes through it. */
    private OptionalDouble seriesInTrunk(double shownOhm) {
        Trunk.Laid laid = nominal.healthy();
        int tap = readings.atModule().map(nominal.layout::node).filter(node -> node != Tap.NONE).map(nominal.layout::tapOfNode)
                .orElse(nominal.layout.tapOfConnector());
        double stub = 2 * nominal.layout.taps.get(tap).stubOhm();
        double beyond = laid.after(tap).highLowOhm();
        double total = shownOhm - leadOhm - stub;
        double near = laid.before(tap).join(laid.branch(tap)).highLowOhm();
        double through = 1 / total - 1 / near;
        return through > 0 && !Predicted.isOpen(beyond) && 1 / through - beyond > 0
                ? OptionalDouble.of(1 / through - beyond)
                : OptionalDouble.empty();
    }

}
