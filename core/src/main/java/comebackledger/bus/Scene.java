package comebackledger.bus;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalInt;

/**
 * One way the unknown parts of the build may be, and how the known parts spread around it.
 *
 * <p>Each nuisance is one trunk moved by one standard deviation of that nuisance; the difference of its readings is the reading's derivative.
 *
 * @param weight of this way among all, adding up to 1
 * @param groundTimes how many times more or less than predicted a reading to ground may be, beside what else moves it; the next scene covers the rest
 * @param inputsTold the build says what every module's input measures
 */
record Scene(double weight, double groundTimes, boolean inputsTold, Side off, Side on) {
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
    private static final double UNKNOWN_WIRE_SPREAD = 0.6;
    /** Where nobody knows how far the connector is from either end, the wire between may be nothing or all. */
    private static final double UNKNOWN_PLACE_SPREAD = 1.8;
    /** A trunk whose modules nobody names carries about so many, from none to 15 (common practice, no source). */
    private static final int UNNAMED_INPUTS = 6;
    private static final double UNNAMED_SPREAD = 0.65;
    private static final double GROUND_TIMES = 2.2;
    /** From the mean input to 10 kohm, and to 100. */
    private static final double INPUT_TIMES = 4.5;
    private static final double LOOSE_ABOVE_OHM = 1000;
    /** One module's input by itself, and the few on one side of a break: standard deviation of the logarithm. */
    private static final double ONE_INPUT_SPREAD = 0.6;
    private static final double FEW_INPUTS_SPREAD = 0.3;
    /** A supply that nobody read: between a rested and a charging battery, share of its middle. */
    private static final double UNREAD_SUPPLY_SPREAD = 0.07;
    private static final double STEP = 1;

    /** The trunk with the power off or on. @param moved by one standard deviation of each nuisance; none where nobody measured */
    record Side(Trunk trunk, List<Trunk> moved) {}

    /**
     * Whether a reading hangs on inputs that nobody told of: no terminator is left between the lines, or only inputs lead to ground. It is then off by
     * a factor, not by a share.
     */
    boolean isLoose(Probe probe, double shownOhm) {
        return !inputsTold && (probe.isToGround() ? isAssumedGrounded() : !probe.isVoltage() && !probe.isLine() && shownOhm > LOOSE_ABOVE_OHM);
    }

    /** What no other reading shares of such a reading's error, standard deviation of its logarithm. */
    static double spread(Probe probe) {
        return probe.isToGround() ? 0 : probe.where() == Probe.Where.PINS ? ONE_INPUT_SPREAD : FEW_INPUTS_SPREAD;
    }

    /** How many times more or less than predicted such a reading may be. */
    double times(Probe probe) {
        return probe.isToGround() ? groundTimes : INPUT_TIMES;
    }

    /** What the readings make worth preparing. @param ground a path to ground would show */
    record Measured(boolean ground, boolean voltage, boolean supply) {}

    /** Whether inputs that nobody told of lead to ground here. */
    boolean isAssumedGrounded() {
        return groundTimes > 1;
    }

    /** Whether a sound network shows a path to ground. */
    boolean isGrounded() {
        return !Predicted.isOpen(off.trunk().healthy().atConnector().highGroundOhm());
    }

    /** @param named modules on the trunk in truth, though the build names none; empty: it does */
    static List<Scene> of(Circuit circuit, CheckPolicy policy, Measured measured, double supplyVolt, OptionalInt named) {
        List<Scene> scenes = new ArrayList<>();
        boolean told = named.isEmpty() && circuit.nodes().map(nodes -> nodes.stream().allMatch(Circuit.Node::hasInput)).orElse(false);
        int hidden = named.isEmpty() ? 0 : Math.max(0, UNNAMED_INPUTS - named.getAsInt());
        int count = circuit.nodes().map(List::size).orElse(0) + hidden;
        double own = told ? KNOWN_INPUT_SPREAD : INPUT_SPREAD / Math.sqrt(Math.max(count, 1));
        double spread = hidden > 0 ? Math.hypot(own, UNNAMED_SPREAD * hidden / count) : own;
        double tilt = told ? 0 : Math.min(0.8, INPUT_SPREAD / Math.sqrt(Math.max(count / 2.0, 1)));
        boolean both = measured.ground && !told && count > 0;
        scenes.add(scene(circuit, policy, both ? FLOATING : 1, 1, assumed(hidden, 1 / MEAN_INPUT_SIEMENS, Mesh.OPEN), spread, tilt, measured,
                supplyVolt));
        for (double ohm : both ? GROUND_OHM : new double[0]) {
            scenes.add(scene(circuit, policy, (1 - FLOATING) / GROUND_OHM.length, GROUND_TIMES, assumed(hidden, Mesh.OPEN, ohm), GROUND_SPREAD,
                    tilt, measured, supplyVolt));
        }
        return scenes;
    }

    private static Assumed assumed(int hiddenInputs, double differentialOhm, double lineToGroundOhm) {
        return new Assumed(20, WIRE_OHM_PER_METRE, hiddenInputs, differentialOhm, lineToGroundOhm, 1, 0, List.of(), 1, 1);
    }

    private static Scene scene(Circuit circuit, CheckPolicy policy, double weight, double groundTimes, Assumed assumed, double inputSpread,
            double tilt,
            Measured measured, double supplyVolt) {
        List<Assumed> moved = new ArrayList<>();
        int terminators = circuit.terminators().map(List::size).orElse(2);
        for (int i = 0; i < terminators; i++) {
            List<Double> factors = new ArrayList<>(Collections.nCopies(terminators, 1.0));
            factors.set(i, 1 + STEP * policy.terminatorSpread());
            moved.add(assumed.withTerminatorFactors(factors));
        }
        if (circuit.nodes().map(List::size).orElse(0) > 0 || assumed.hiddenInputs() > 0) {
            moved.add(assumed.withInputFactor(1 + STEP * inputSpread));
        }
        if (tilt > 0) {
            moved.add(assumed.withInputTilt(STEP * tilt));
        }
        boolean placed = circuit.connector().map(connector -> connector.atMetres().isPresent()).orElse(false);
        if (circuit.wireOhmPerMetre().isEmpty() || circuit.trunkMetres().isEmpty() || !placed) {
            moved.add(assumed.withWireFactor(1 + STEP * (placed ? UNKNOWN_WIRE_SPREAD : UNKNOWN_PLACE_SPREAD)));
        }
        if (measured.voltage && !measured.supply) {
            moved.add(assumed.withSupplyFactor(1 + STEP * UNREAD_SUPPLY_SPREAD));
        }
        return new Scene(weight, groundTimes, tilt == 0, side(circuit, assumed, moved, false, 0),
                side(circuit, assumed, measured.voltage ? moved : List.of(), true, supplyVolt));
    }

    private static Side side(Circuit circuit, Assumed assumed, List<Assumed> moved, boolean powered, double supplyVolt) {
        return new Side(new Trunk(circuit, assumed, powered, supplyVolt),
                moved.stream().map(other -> new Trunk(circuit, other, powered, supplyVolt)).toList());
    }
}
