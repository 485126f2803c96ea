package comebackledger.bus;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * One way the unknown parts of the build may be, and how the known parts spread around it.
 *
 * <p>Each nuisance is one trunk moved by one standard deviation of that nuisance; the difference of its readings is the reading's derivative.
 *
 * @param weight of this way among all, adding up to 1
 */
record Scene(double weight, Side off, Side on) {
    /** Half of builds that tell no input resistance float from ground, half do not (common practice, no source). */
    private static final double FLOATING = 0.5;
    /** The mean conductance of an input that is anywhere from 10 to 100 kohm alike (ISO 11898-2, from memory): ln 10 / 90 000 S. */
    private static final double MEAN_INPUT_SIEMENS = Math.log(10) / 90_000;
    /** And its standard deviation over its mean. */
    private static final double INPUT_SPREAD = 0.727;
    /** 5 to 50 kohm to ground (ISO 11898-2, from memory), each third of the decade. */
    private static final double[] GROUND_OHM = {7_340, 15_800, 34_000};
    private static final double GROUND_SPREAD = 0.25;
    private static final double KNOWN_INPUT_SPREAD = 0.02;
    /** 18 AWG, and a trunk of 5 to 40 m: half of it either way (common practice, no source). */
    private static final double WIRE_OHM_PER_METRE = 0.021;
    private static final double UNKNOWN_WIRE_SPREAD = 0.5;
    private static final double STEP = 1;

    /** The trunk with the power off or on. @param moved by one standard deviation of each nuisance */
    record Side(Trunk trunk, List<Trunk> moved) {}

    static List<Scene> of(Circuit circuit, CheckPolicy policy, boolean ground, boolean voltage, double supplyVolt) {
        List<Scene> scenes = new ArrayList<>();
        boolean told = circuit.nodes().map(nodes -> nodes.stream().allMatch(Circuit.Node::hasInput)).orElse(false);
        int count = circuit.nodes().map(List::size).orElse(0);
        double spread = told ? KNOWN_INPUT_SPREAD : INPUT_SPREAD / Math.sqrt(Math.max(count, 1));
        double floating = 1 / MEAN_INPUT_SIEMENS;
        boolean both = ground && !told && count > 0;
        scenes.add(scene(circuit, policy, both ? FLOATING : 1, assumed(floating, Mesh.OPEN), spread, voltage, supplyVolt));
        for (double ohm : both ? GROUND_OHM : new double[0]) {
            scenes.add(scene(circuit, policy, (1 - FLOATING) / GROUND_OHM.length, assumed(Mesh.OPEN, ohm), GROUND_SPREAD, voltage, supplyVolt));
        }
        return scenes;
    }

    private static Assumed assumed(double differentialOhm, double lineToGroundOhm) {
        return new Assumed(20, WIRE_OHM_PER_METRE, differentialOhm, lineToGroundOhm, 1, List.of(), 1);
    }

    private static Scene scene(Circuit circuit, CheckPolicy policy, double weight, Assumed assumed, double inputSpread, boolean voltage,
            double supplyVolt) {
        List<Assumed> moved = new ArrayList<>();
        int terminators = circuit.terminators().map(List::size).orElse(2);
        double own = circuit.nodes().isEmpty() ? Math.hypot(policy.terminatorSpread(), 0.01) : policy.terminatorSpread();
        for (int i = 0; i < terminators; i++) {
            List<Double> factors = new ArrayList<>(Collections.nCopies(terminators, 1.0));
            factors.set(i, 1 + STEP * own);
            moved.add(assumed.withTerminatorFactors(factors));
        }
        if (circuit.nodes().map(List::size).orElse(0) > 0) {
            moved.add(assumed.withInputFactor(1 + STEP * inputSpread));
        }
        if (circuit.wireOhmPerMetre().isEmpty() || circuit.trunkMetres().isEmpty()) {
            moved.add(assumed.withWireFactor(1 + STEP * UNKNOWN_WIRE_SPREAD));
        }
        Side off = side(circuit, assumed, moved, false, 0);
        return new Scene(weight, off, voltage ? side(circuit, assumed, moved, true, supplyVolt) : off);
    }

    private static Side side(Circuit circuit, Assumed assumed, List<Assumed> moved, boolean powered, double supplyVolt) {
        return new Side(new Trunk(circuit, assumed, powered, supplyVolt),
                moved.stream().map(other -> new Trunk(circuit, other, powered, supplyVolt)).toList());
    }
}
