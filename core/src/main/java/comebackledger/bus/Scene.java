package comebackledger.bus;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Predicate;

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
    /** A build that tells the input between the pins mostly has none to ground worth telling (common practice, no source). */
    private static final double FLOATING_BESIDE_TOLD = 0.8;
    /** Each pin to ground: 5 to 50 kohm (ISO 11898-2, from memory) and on to 1 Mohm of a weak pull resistor, each third of a decade. */
    private static final double[] GROUND_OHM = {7_340, 15_800, 34_000, 73_000, 158_000, 340_000, 730_000};
    private static final int TRANSCEIVERS = 3;
    private static final double GROUND_SPREAD = 0.25;
    /** Inputs to ground lighter than this leave the input between the pins to speak for itself. */
    private static final double LIGHT_GROUND_OHM = 50_000;
    /** Half the time the positive cable is left with a load on it: lamps, heaters, sleeping modules (common practice, no source). */
    private static final double UNLOADED = 0.5;
    private static final double LEAST_LOAD_OHM = 0.5;
    private static final double MOST_LOAD_OHM = 5_000;
    private static final double LOAD_SPREAD = 0.25;
    /** Two large numbers differ by no less than this share of them, as a meter reads. */
    private static final double RESOLVED = 0.01;
    private static final double KNOWN_INPUT_SPREAD = 0.02;
    /** Copper of 18 AWG (NBS Handbook 100), and a trunk of 5 to 40 m: half of it either way (common practice, no source). */
    static final double WIRE_OHM_PER_METRE = 0.021;
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
        return probe.isToRail() ? isAssumedGrounded() : !inputsTold && !probe.isVoltage() && !probe.isLine() && shownOhm > LOOSE_ABOVE_OHM;
    }

    /** What no other reading shares of such a reading's error, standard deviation of its logarithm. */
    static double spread(Probe probe) {
        return probe.isToRail() ? 0 : probe.where() == Probe.Where.PINS ? ONE_INPUT_SPREAD : FEW_INPUTS_SPREAD;
    }

    /** How many times more or less than predicted such a reading may be. */
    double times(Probe probe) {
        return probe.isToRail() ? groundTimes : INPUT_TIMES;
    }

    /**
     * What the readings make worth preparing.
     *
     * @param groundOhm the smallest number read toward ground; empty: none, or all beyond the meter's range
     * @param supplyOhm likewise toward the positive cable
     * @param rail something was read toward either
     * @param supply the supply's voltage was read
     */
    record Measured(OptionalDouble groundOhm, OptionalDouble supplyOhm, boolean rail, boolean voltage, boolean supply) {
        static Measured of(List<Observed> observed, boolean supply) {
            return new Measured(least(observed, Probe::isToGround), least(observed, Probe::isToSupply),
                    observed.stream().anyMatch(one -> one.probe().isToRail()), observed.stream().anyMatch(one -> one.probe().isVoltage()), supply);
        }

        private static OptionalDouble least(List<Observed> observed, Predicate<Probe> wanted) {
            return observed.stream().filter(one -> wanted.test(one.probe()) && !one.isOpen()).mapToDouble(Observed::shown).filter(ohm -> ohm > 0)
                    .min();
        }

        /** What a way to ground must read if it is all that was read. */
        OptionalDouble leakOhm() {
            return groundOhm.isPresent() ? groundOhm : supplyOhm;
        }

        /** The load on the positive cable that would explain the numbers: what the two rails differ by, or all of the one that was read. */
        OptionalDouble loadOhm() {
            if (groundOhm.isEmpty() || supplyOhm.isEmpty()) {
                return leakOhm();
            }
            double ground = groundOhm.getAsDouble();
            double supply = supplyOhm.getAsDouble();
            return OptionalDouble.of(Math.max(Math.abs(ground - supply), RESOLVED * Math.max(ground, supply)));
        }
    }

    /** One value that an untold part may have; without end: there is none. */
    private record Way(double weight, double ohm) {
        boolean isNone() {
            return Double.isInfinite(ohm);
        }
    }

    /** The part of the build that nobody told of, seen as a whole. @param count of modules, the hidden ones too */
    private record Untold(int hidden, int count, boolean told) {
        double inputSpread() {
            double own = told ? KNOWN_INPUT_SPREAD : INPUT_SPREAD / Math.sqrt(Math.max(count, 1));
            return hidden > 0 ? Math.hypot(own, UNNAMED_SPREAD * hidden / count) : own;
        }

        double tilt() {
            return told ? 0 : Math.min(0.8, INPUT_SPREAD / Math.sqrt(Math.max(count / 2.0, 1)));
        }
    }

    /** Whether inputs or loads that nobody told of lead to ground here. */
    boolean isAssumedGrounded() {
        return groundTimes > 1;
    }

    /** What a sound network shows toward ground. */
    double groundOhm() {
        return off.trunk().healthy().atConnector().highGroundOhm();
    }

    /** @param named modules on the trunk in truth, though the build names none; empty: it does */
    static List<Scene> of(Circuit circuit, CheckPolicy policy, Measured measured, double supplyVolt, OptionalInt named) {
        int hidden = named.isEmpty() ? 0 : Math.max(0, UNNAMED_INPUTS - named.getAsInt());
        boolean told = named.isEmpty() && circuit.nodes().map(nodes -> nodes.stream().allMatch(Circuit.Node::hasInput)).orElse(false);
        Untold untold = new Untold(hidden, circuit.nodes().map(List::size).orElse(0) + hidden, told);
        List<Way> grounds = groundWays(circuit, untold, measured);
        List<Scene> scenes = new ArrayList<>();
        for (Way load : loadWays(circuit, measured)) {
            for (Way ground : grounds) {
                // Without a number toward the supply its load shows through a short to it alone, beside which heavy inputs do not count.
                if (measured.supplyOhm.isPresent() || load.isNone() || ground.isNone() || ground.equals(grounds.getLast())) {
                    scenes.add(scene(circuit, policy, untold, ground, load, measured, supplyVolt));
                }
            }
        }
        double sum = scenes.stream().mapToDouble(Scene::weight).sum();
        return scenes.stream().map(scene -> new Scene(scene.weight / sum, scene.groundTimes, scene.inputsTold, scene.off, scene.on)).toList();
    }

    /**
     * Unknown ways to ground that can be part of the number read: heavier ones than one module would need are refuted by it, lighter ones
     * than all modules together would need stand for each other.
     */
    private static List<Way> groundWays(Circuit circuit, Untold untold, Measured measured) {
        long free = untold.hidden + circuit.nodes().orElse(List.of()).stream().filter(node -> node.lineToGroundOhm().isEmpty()).count();
        if (free == 0 || !(measured.rail || measured.voltage)) {
            return List.of(new Way(1, Mesh.OPEN));
        }
        double floating = untold.told ? FLOATING_BESIDE_TOLD : FLOATING;
        OptionalDouble leak = measured.leakOhm();
        if (leak.isEmpty()) {
            List<Way> ways = new ArrayList<>(List.of(new Way(floating, Mesh.OPEN)));
            Arrays.stream(GROUND_OHM).limit(untold.told ? 0 : TRANSCEIVERS).forEach(ohm -> ways.add(new Way((1 - floating) / TRANSCEIVERS, ohm)));
            return ways;
        }
        // Both pins of a module lie beside each other, joined by the terminators.
        double ofOne = 2 * leak.getAsDouble() / GROUND_TIMES;
        double ofAll = 2 * leak.getAsDouble() * free * GROUND_TIMES;
        double each = (1 - floating) / GROUND_OHM.length;
        List<Way> ways = new ArrayList<>(List.of(new Way(floating, Mesh.OPEN)));
        Arrays.stream(GROUND_OHM).filter(ohm -> ohm >= ofOne && ohm <= ofAll).forEach(ohm -> ways.add(new Way(each, ohm)));
        double[] lighter = Arrays.stream(GROUND_OHM).filter(ohm -> ohm > ofAll).toArray();
        if (lighter.length > 0) {
            ways.add(new Way(each * lighter.length, lighter[0]));
        }
        return ways;
    }

    /** Untold loads between the disconnected cable and ground: the one that the numbers speak for, and heavier ones. */
    private static List<Way> loadWays(Circuit circuit, Measured measured) {
        OptionalDouble load = measured.loadOhm();
        if (circuit.supplyToGroundOhm().isPresent() || load.isEmpty()) {
            return List.of(new Way(1, Mesh.OPEN));
        }
        double fitted = Math.clamp(load.getAsDouble(), LEAST_LOAD_OHM, MOST_LOAD_OHM);
        double decades = Math.log(MOST_LOAD_OHM / LEAST_LOAD_OHM);
        double at = (1 - UNLOADED) * LOAD_SPREAD * Math.sqrt(2 * Math.PI) / decades;
        double heavier = (1 - UNLOADED) * Math.log(fitted / LEAST_LOAD_OHM) / decades;
        return List.of(new Way(1 - at - heavier, Mesh.OPEN), new Way(at, fitted), new Way(heavier, Math.sqrt(fitted * LEAST_LOAD_OHM)));
    }

    private static Scene scene(Circuit told, CheckPolicy policy, Untold untold, Way ground, Way load, Measured measured, double supplyVolt) {
        Circuit circuit = load.isNone() ? told : told.withSupplyToGroundOhm(load.ohm);
        double differentialOhm = ground.ohm < LIGHT_GROUND_OHM ? Mesh.OPEN : 1 / MEAN_INPUT_SIEMENS;
        Assumed assumed = new Assumed(20, WIRE_OHM_PER_METRE, untold.hidden, differentialOhm, ground.ohm, 1, 0, List.of(), 1, 1);
        double inputSpread = ground.isNone() ? untold.inputSpread() : GROUND_SPREAD;
        double tilt = untold.tilt();
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
        double groundTimes = ground.isNone() && load.isNone() ? 1 : GROUND_TIMES;
        Optional<Circuit> heavier = load.isNone() ? Optional.empty() : Optional.of(told.withSupplyToGroundOhm(load.ohm * (1 + STEP * LOAD_SPREAD)));
        Side off = side(circuit, assumed, moved, heavier, false, 0);
        Side on = measured.voltage
                ? side(circuit, assumed, moved, heavier, true, supplyVolt)
                : side(circuit, assumed, List.of(), Optional.empty(), true, supplyVolt);
        return new Scene(ground.weight * load.weight, groundTimes, tilt == 0, off, on);
    }

    /** @param heavier the same build with another load on its positive cable, the last nuisance */
    private static Side side(Circuit circuit, Assumed assumed, List<Assumed> moved, Optional<Circuit> heavier, boolean powered, double supplyVolt) {
        List<Trunk> trunks = new ArrayList<>();
        moved.forEach(other -> trunks.add(new Trunk(circuit, other, powered, supplyVolt)));
        heavier.ifPresent(other -> trunks.add(new Trunk(other, assumed, powered, supplyVolt)));
        return new Side(new Trunk(circuit, assumed, powered, supplyVolt), trunks);
    }
}
