package comebackledger.bus;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.CommonOps_DDRM;

/**
 * The same circuit by a dense nodal matrix: every point of each conductor a node, every part a conductance, solved at once. Written from the
 * description of the circuit and sharing nothing with the chain but its records.
 */
final class DenseNodes {
    private static final double LEAK = 1e-10;
    private static final double DEAD = 1e-6;

    private record Part(int from, int to, double ohm) {}

    private record Place(double metres, int high, int low) {}

    private final List<Part> parts = new ArrayList<>();
    private final List<Part> sources = new ArrayList<>();
    private final List<Double> volts = new ArrayList<>();
    private int count;
    private final int supply = node();

    private DenseNodes() {}

    private int node() {
        return count++;
    }

    private void part(int from, int to, double ohm) {
        if (Double.isFinite(ohm)) {
            parts.add(new Part(from, to, Math.max(ohm, DEAD)));
        }
    }

    static Predicted readings(Circuit circuit, List<Fault> faults, double supplyVolt) {
        DenseNodes off = new DenseNodes();
        int[] pins = off.build(circuit, faults, false);
        DenseNodes on = new DenseNodes();
        int[] live = on.build(circuit, faults, true);
        double[] volt = on.solvePowered(supplyVolt, live);
        int ground = -1;
        return new Predicted(off.between(pins[0], pins[1]), off.between(pins[0], ground), off.between(pins[1], ground),
                off.between(pins[0], off.supply),
                off.between(pins[1], off.supply), told(volt[0], circuit), told(volt[1], circuit));
    }

    /** A line that nothing drives floats: the leak alone would hold it near 0. */
    private static OptionalDouble told(double volt, Circuit circuit) {
        return circuit.nodes().orElseThrow().isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(volt);
    }

    private DMatrixRMaj matrix() {
        DMatrixRMaj matrix = CommonOps_DDRM.identity(count);
        CommonOps_DDRM.scale(LEAK, matrix);
        for (Part part : parts) {
            add(matrix, part);
        }
        return matrix;
    }

    private static DMatrixRMaj solve(DMatrixRMaj matrix, DMatrixRMaj current) {
        DMatrixRMaj volt = new DMatrixRMaj(current.numRows, 1);
        CommonOps_DDRM.solve(matrix, current, volt);
        return volt;
    }

    private static void add(DMatrixRMaj matrix, Part part) {
        double siemens = 1 / part.ohm;
        matrix.set(part.from, part.from, matrix.get(part.from, part.from) + siemens);
        if (part.to >= 0) {
            matrix.set(part.to, part.to, matrix.get(part.to, part.to) + siemens);
            matrix.set(part.from, part.to, matrix.get(part.from, part.to) - siemens);
            matrix.set(part.to, part.from, matrix.get(part.to, part.from) - siemens);
        }
    }

    private double between(int one, int other) {
        DMatrixRMaj current = new DMatrixRMaj(count, 1);
        current.set(one, 0, 1);
        if (other >= 0) {
            current.set(other, 0, -1);
        }
        DMatrixRMaj volt = solve(matrix(), current);
        return volt.get(one, 0) - (other >= 0 ? volt.get(other, 0) : 0);
    }

    private double[] solvePowered(double supplyVolt, int[] pins) {
        DMatrixRMaj matrix = matrix();
        DMatrixRMaj current = new DMatrixRMaj(count, 1);
        for (int i = 0; i < sources.size(); i++) {
            Part source = sources.get(i);
            add(matrix, source);
            current.set(source.from, 0, current.get(source.from, 0) + volts.get(i) / source.ohm);
        }
        add(matrix, new Part(supply, -1, DEAD));
        current.set(supply, 0, current.get(supply, 0) + supplyVolt / DEAD);
        DMatrixRMaj volt = solve(matrix, current);
        return new double[]{volt.get(pins[0], 0), volt.get(pins[1], 0)};
    }

    private int[] build(Circuit circuit, List<Fault> faults, boolean powered) {
        double wire = circuit.wireOhmPerMetre().getAsDouble();
        List<Circuit.Node> nodes = circuit.nodes().orElseThrow();
        List<Place> places = new ArrayList<>();
        places.add(place(0));
        places.add(place(circuit.trunkMetres().getAsDouble()));
        nodes.forEach(module -> places.add(place(module.atMetres().getAsDouble())));
        Circuit.Connector connector = circuit.connector().orElseThrow();
        places.add(place(connector.atMetres().getAsDouble()));
        List<Fault> joints = faults.stream()
                .filter(fault -> fault.kind() == FaultKind.TRUNK_OPEN || fault.kind() == FaultKind.TRUNK_SERIES_RESISTANCE).toList();
        List<Place> far = new ArrayList<>();
        for (Fault joint : joints) {
            Place near = place(joint.atMetres().getAsDouble());
            Place behind = place(joint.atMetres().getAsDouble());
            double ohm = joint.kind() == FaultKind.TRUNK_OPEN ? Double.POSITIVE_INFINITY : joint.ohm().getAsDouble();
            part(near.high, behind.high, on(joint, Line.HIGH) ? ohm : DEAD);
            part(near.low, behind.low, on(joint, Line.LOW) ? ohm : DEAD);
            places.add(near);
            far.add(behind);
        }
        faults.stream().filter(fault -> !joints.contains(fault)).forEach(fault -> places.add(place(fault.atMetres().getAsDouble())));
        places.sort(Comparator.comparingDouble(Place::metres));
        wires(places, far, wire);
        nodes.forEach(module -> module(circuit, faults, module, places, powered));
        terminators(circuit, faults, places);
        faults.forEach(fault -> across(fault, places));
        return connector(connector, faults, places, wire);
    }

    private Place place(double metres) {
        return new Place(metres, node(), node());
    }

    private static boolean on(Fault fault, Line line) {
        Line told = fault.line().orElse(Line.BOTH);
        return told == line || told == Line.BOTH;
    }

    private void wires(List<Place> places, List<Place> far, double wire) {
        for (int i = 0; i + 1 < places.size(); i++) {
            Place from = places.get(i);
            Place to = places.get(i + 1);
            double metres = to.metres - from.metres;
            Place start = far.stream().filter(place -> place.metres == from.metres).findFirst().orElse(from);
            part(start.high, to.high, metres * wire);
            part(start.low, to.low, metres * wire);
        }
    }

    private static Place at(List<Place> places, double metres) {
        return places.stream().filter(place -> place.metres == metres).findFirst().orElseThrow();
    }

    private static Optional<Fault> find(List<Fault> faults, FaultKind kind, String part) {
        return faults.stream().filter(fault -> fault.kind() == kind && fault.part().equals(Optional.of(part))).findFirst();
    }

    private final java.util.Map<String, int[]> pins = new java.util.HashMap<>();

    private void module(Circuit circuit, List<Fault> faults, Circuit.Node module, List<Place> places, boolean powered) {
        Place at = at(places, module.atMetres().getAsDouble());
        int high = node();
        int low = node();
        if (find(faults, FaultKind.MODULE_STUB, module.module()).isEmpty()) {
            double stub = module.stubMetres().getAsDouble() * circuit.wireOhmPerMetre().getAsDouble();
            part(at.high, high, stub);
            part(at.low, low, stub);
        }
        pins.put(module.module(), new int[]{high, low});
        part(high, low, module.differentialOhm().getAsDouble());
        if (powered) {
            for (int pin : new int[]{high, low}) {
                sources.add(new Part(pin, -1, module.biasOhm().getAsDouble()));
                volts.add(module.biasVolt().getAsDouble());
            }
        } else {
            part(high, -1, module.lineToGroundOhm().orElse(Double.POSITIVE_INFINITY));
            part(low, -1, module.lineToGroundOhm().orElse(Double.POSITIVE_INFINITY));
        }
        find(faults, FaultKind.MODULE_SHUNT, module.module()).ifPresent(fault -> part(high, low, fault.ohm().getAsDouble()));
    }

    private void terminators(Circuit circuit, List<Fault> faults, List<Place> places) {
        for (Circuit.Terminator terminator : circuit.terminators().orElseThrow()) {
            int[] at = terminator.inside().map(pins::get).orElseGet(() -> {
                Place end = at(places, terminator.atMetres().getAsDouble());
                return new int[]{end.high, end.low};
            });
            if (find(faults, FaultKind.TERMINATOR_MISSING, terminator.name()).isPresent()) {
                continue;
            }
            double ohm = find(faults, FaultKind.TERMINATOR_DRIFTED, terminator.name()).map(fault -> fault.ohm().getAsDouble())
                    .orElse(terminator.ohm());
            int centre = node();
            part(at[0], centre, ohm / 2);
            part(centre, at[1], ohm / 2);
            for (Fault fault : faults) {
                if (fault.line().equals(Optional.of(Line.CENTRE)) && fault.part().equals(Optional.of(terminator.name()))) {
                    part(centre, fault.kind() == FaultKind.SHORT_TO_GROUND ? -1 : supply, fault.ohm().getAsDouble());
                }
            }
        }
        circuit.supplyToGroundOhm().ifPresent(ohm -> part(supply, -1, ohm));
    }

    private void across(Fault fault, List<Place> places) {
        Place at = at(places, fault.atMetres().getAsDouble());
        switch (fault.kind()) {
            case EXTRA_TERMINATOR, TRUNK_SHORT_HIGH_LOW -> part(at.high, at.low, fault.ohm().getAsDouble());
            case SHORT_TO_GROUND -> toRail(fault, at, -1);
            case SHORT_TO_SUPPLY -> toRail(fault, at, supply);
            default -> {}
        }
    }

    private void toRail(Fault fault, Place at, int rail) {
        if (fault.line().equals(Optional.of(Line.CENTRE))) {
            return;
        }
        if (on(fault, Line.HIGH)) {
            part(at.high, rail, fault.ohm().getAsDouble());
        }
        if (on(fault, Line.LOW)) {
            part(at.low, rail, fault.ohm().getAsDouble());
        }
    }

    private int[] connector(Circuit.Connector connector, List<Fault> faults, List<Place> places, double wire) {
        Place at = at(places, connector.atMetres().getAsDouble());
        double high = connector.stubMetres().getAsDouble() * wire;
        double low = high;
        for (Fault fault : faults) {
            if (fault.kind() == FaultKind.CONNECTOR_FAULT) {
                high += on(fault, Line.HIGH) ? fault.ohm().getAsDouble() : 0;
                low += on(fault, Line.LOW) ? fault.ohm().getAsDouble() : 0;
            }
        }
        int[] found = {node(), node()};
        part(at.high, found[0], high);
        part(at.low, found[1], low);
        return found;
    }
}
