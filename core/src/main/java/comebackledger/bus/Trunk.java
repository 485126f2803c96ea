package comebackledger.bus;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A healthy trunk with every number filled in, and what it is seen as from each tap. Laying a fault changes one branch or one point of the
 * wire, so only the part between the fault and the meter has to be walked again.
 */
final class Trunk {
    private static final Circuit.Node NOBODY = Circuit.Node.named("");

    final Layout layout;
    /** With the power on the modules bias the lines, and the positive cable stands at its voltage. */
    final boolean powered;
    final double supplyVolt;
    private final Assumed assumed;
    /** Of one conductor between a tap and the next. */
    private final double[] wireOhm;
    /** As seen from the trunk, by tap. */
    final Mesh[] branches;
    /** Everything up to and with a tap, seen from there; and everything from a tap on. */
    private final Mesh[] upTo;
    private final Mesh[] onward;

    Trunk(Circuit circuit, Assumed assumed, boolean powered, double supplyVolt) {
        this(new Layout(circuit, assumed), assumed, powered, supplyVolt);
    }

    Trunk(Layout layout, Assumed assumed, boolean powered, double supplyVolt) {
        this.layout = layout;
        this.assumed = assumed;
        this.powered = powered;
        this.supplyVolt = supplyVolt * assumed.supplyFactor();
        int taps = layout.taps.size();
        this.wireOhm = new double[taps - 1];
        for (int i = 0; i + 1 < taps; i++) {
            wireOhm[i] = (layout.taps.get(i + 1).metres() - layout.taps.get(i).metres()) * layout.wireOhmPerMetre;
        }
        this.branches = new Mesh[taps];
        for (int i = 0; i < taps; i++) {
            branches[i] = branch(i);
        }
        if (assumed.hiddenInputs() > 0) {
            hide();
        }
        this.upTo = new Mesh[taps];
        this.onward = new Mesh[taps];
        for (int i = 0; i < taps; i++) {
            Mesh before = i == 0 ? new Mesh() : upTo[i - 1].copy().behind(wireOhm(i - 1), wireOhm(i - 1));
            upTo[i] = before.join(branches[i]);
        }
        for (int i = taps - 1; i >= 0; i--) {
            Mesh after = i == taps - 1 ? new Mesh() : onward[i + 1].copy().behind(wireOhm(i), wireOhm(i));
            onward[i] = after.join(branches[i]);
        }
    }

    /** One conductor between a tap and the next. */
    private double wireOhm(int tap) {
        return wireOhm[tap];
    }

    private Mesh branch(int tap) {
        Tap at = layout.taps.get(tap);
        if (at.node() != Tap.NONE) {
            return pins(at.node()).behind(at.stubOhm(), at.stubOhm());
        }
        return at.terminator() != Tap.NONE ? terminator(at.terminator(), 1) : new Mesh();
    }

    /** A module by itself, seen from its pins, the terminators it carries with it. */
    private Mesh pins(int node) {
        Mesh mesh = input(node, true);
        for (int i = 0; i < layout.terminators.size(); i++) {
            if (isCarriedBy(i, node)) {
                mesh.join(terminator(i, 1));
            }
        }
        return mesh;
    }

    private boolean isCarriedBy(int terminator, int node) {
        return layout.terminators.get(terminator).inside().map(module -> module.equals(layout.nodes.get(node).module())).orElse(false);
    }

    /** Modules that nobody told of: half of them at either end, since a break may leave some on each side. */
    private void hide() {
        for (int tap = 0; tap < branches.length; tap++) {
            double factor = factor(layout.taps.get(tap).metres());
            for (int i = 0; layout.taps.get(tap).isEnd() && i < assumed.hiddenInputs(); i += 2) {
                branches[tap].join(input(NOBODY, true, factor));
            }
        }
    }

    private Mesh input(int node, boolean alive) {
        return input(layout.nodes.get(node), alive, factor(layout.nodeMetres[node]));
    }

    private double factor(double metres) {
        return assumed.inputFactor() * (1 + assumed.inputTilt() * (1 - 2 * metres / layout.metres));
    }

    private Mesh input(Circuit.Node module, boolean alive, double factor) {
        Mesh mesh = new Mesh();
        double differential = module.differentialOhm().orElse(module.hasInput() ? Mesh.OPEN : assumed.differentialOhm());
        double toGround = module.lineToGroundOhm().orElse(assumed.lineToGroundOhm());
        mesh.highLow = factor / differential;
        if (powered && alive) {
            double siemens = factor / module.biasOhm().orElse(module.lineToGroundOhm().orElse(BusModel.BIAS_OHM));
            double ampere = siemens * module.biasVolt().orElse(BusModel.BIAS_VOLT);
            mesh.highGround = siemens;
            mesh.lowGround = siemens;
            mesh.highAmpere = ampere;
            mesh.lowAmpere = ampere;
        } else {
            mesh.highGround = factor / toGround;
            mesh.lowGround = mesh.highGround;
        }
        return mesh;
    }

    private Mesh terminator(int number, double factor) {
        Mesh mesh = new Mesh();
        mesh.highLow = Mesh.siemens(layout.terminators.get(number).ohm() * assumed.terminatorFactor(number) * factor);
        return mesh;
    }

    double terminatorOhm(int number) {
        return layout.terminators.get(number).ohm() * assumed.terminatorFactor(number);
    }

    Laid healthy() {
        return new Laid();
    }

    /** What is taken off comes last: a module off the bus is off with all that is wrong inside it. */
    Laid lay(List<Fault> faults) {
        Laid laid = new Laid();
        for (Fault fault : faults) {
            if (!takesOff(fault)) {
                laid.lay(fault);
            }
        }
        for (Fault fault : faults) {
            if (takesOff(fault)) {
                laid.lay(fault);
            }
        }
        return laid;
    }

    private static boolean takesOff(Fault fault) {
        return fault.kind() == FaultKind.MODULE_STUB || fault.kind() == FaultKind.MODULE_UNPLUGGED;
    }

    /** The trunk with faults on it. */
    final class Laid {
        private final Mesh[] changed = branches.clone();
        private int firstChange = Integer.MAX_VALUE;
        private int lastChange = -1;
        private final List<Point> points = new ArrayList<>(2);
        private double connectorHighOhm;
        private double connectorLowOhm;
        private int loadedNode = Tap.NONE;
        private double loadSiemens;
        private int oddTerminator = Tap.NONE;
        private Mesh odd = new Mesh();

        private Laid() {}

        private Laid copy() {
            Laid copy = new Laid();
            System.arraycopy(changed, 0, copy.changed, 0, changed.length);
            copy.firstChange = firstChange;
            copy.lastChange = lastChange;
            copy.points.addAll(points);
            copy.connectorHighOhm = connectorHighOhm;
            copy.connectorLowOhm = connectorLowOhm;
            copy.loadedNode = loadedNode;
            copy.loadSiemens = loadSiemens;
            copy.oddTerminator = oddTerminator;
            copy.odd = odd;
            return copy;
        }

        /** Remembers a module that loads the lines, for when it is measured by itself. */
        void load(int node, double siemens) {
            loadedNode = node;
            loadSiemens = siemens;
        }

        /** Remembers what stands in place of a terminator. */
        void oddTerminator(int terminator, Mesh mesh) {
            oddTerminator = terminator;
            odd = mesh;
        }

        /** A module by itself. */
        Mesh pins(int node) {
            return pins(node, true);
        }

        Mesh pins(int node, boolean alive) {
            Mesh mesh = Trunk.this.input(node, alive);
            for (int i = 0; i < layout.terminators.size(); i++) {
                if (isCarriedBy(i, node)) {
                    mesh.join(terminator(i));
                }
            }
            if (node == loadedNode) {
                mesh.highLow += loadSiemens;
            }
            return mesh;
        }

        /** A terminator by itself. */
        Mesh terminator(int number) {
            return number == oddTerminator ? odd.copy() : Trunk.this.terminator(number, 1);
        }

        /** The same, with whatever hangs at one tap taken off. */
        Laid without(int tap) {
            Laid copy = copy();
            copy.replace(tap, new Mesh());
            return copy;
        }

        Laid withoutTerminator(int number) {
            int tap = layout.tapOfTerminator(number);
            Laid copy = copy();
            if (layout.taps.get(tap).node() == Tap.NONE) {
                copy.replace(tap, new Mesh());
                return copy;
            }
            return without(tap);
        }

        /** Something at one distance: a mesh across the lines, or a resistance in them. */
        private record Point(double metres, int behindTap, Optional<Mesh> across, double highOhm, double lowOhm) {}

        void replace(int tap, Mesh branch) {
            changed[tap] = branch;
            touch(tap, tap);
        }

        private void touch(int from, int to) {
            firstChange = Math.min(firstChange, from);
            lastChange = Math.max(lastChange, to);
        }

        void across(double metres, Mesh mesh) {
            add(new Point(metres, layout.tapBefore(metres), Optional.of(mesh), 0, 0));
        }

        void inLine(double metres, double highOhm, double lowOhm) {
            add(new Point(metres, layout.tapBefore(metres), Optional.empty(), highOhm, lowOhm));
        }

        private void add(Point point) {
            int index = 0;
            while (index < points.size() && points.get(index).metres <= point.metres) {
                index++;
            }
            points.add(index, point);
            touch(point.behindTap, point.behindTap + 1);
        }

        void atConnector(double highOhm, double lowOhm) {
            connectorHighOhm += highOhm;
            connectorLowOhm += lowOhm;
        }

        void lay(Fault fault) {
            FaultLayer.lay(Trunk.this, this, fault);
        }

        Mesh branch(int tap) {
            return changed[tap];
        }

        /** Everything, seen from the trunk at a tap; the tap's own branch left out where asked. */
        Mesh at(int tap, boolean withBranch) {
            Mesh seen = before(tap);
            seen.join(after(tap));
            if (withBranch) {
                seen.join(changed[tap]);
            }
            return seen;
        }

        /** What lies on the side of terminator a, seen from a tap. */
        Mesh before(int tap) {
            int start = Math.min(tap, firstChange) - 1;
            Mesh seen = start >= 0 ? upTo[start].copy() : new Mesh();
            for (int i = Math.max(start, 0); i < tap; i++) {
                if (i > start) {
                    seen.join(changed[i]);
                }
                cross(seen, i, true);
            }
            return seen;
        }

        /** What lies on the side of terminator b, seen from a tap. */
        Mesh after(int tap) {
            int last = changed.length - 1;
            int start = Math.max(tap, Math.min(lastChange, last)) + 1;
            Mesh seen = start <= last ? onward[start].copy() : new Mesh();
            if (start > last) {
                cross(seen, last, false);
            }
            for (int i = Math.min(start, last); i > tap; i--) {
                if (i < start) {
                    seen.join(changed[i]);
                }
                cross(seen, i - 1, false);
            }
            return seen;
        }

        private boolean hasPoint(int tap) {
            for (int i = 0; i < points.size(); i++) {
                if (points.get(i).behindTap == tap) {
                    return true;
                }
            }
            return false;
        }

        /** The wire behind a tap, with what the faults put there. */
        private void cross(Mesh seen, int tap, boolean outward) {
            boolean end = tap == changed.length - 1;
            if (!hasPoint(tap)) {
                if (!end) {
                    seen.behind(wireOhm(tap), wireOhm(tap));
                }
                return;
            }
            double from = layout.taps.get(tap).metres();
            double to = end ? from : layout.taps.get(tap + 1).metres();
            double at = outward ? from : to;
            for (int i = 0; i < points.size(); i++) {
                Point point = points.get(outward ? i : points.size() - 1 - i);
                if (point.behindTap == tap) {
                    double wire = Math.abs(Math.min(point.metres, to) - at) * layout.wireOhmPerMetre;
                    seen.behind(wire, wire);
                    point.across.ifPresent(seen::join);
                    seen.behind(point.highOhm, point.lowOhm);
                    at = Math.min(point.metres, to);
                }
            }
            double wire = Math.abs((outward ? to : from) - at) * layout.wireOhmPerMetre;
            seen.behind(wire, wire);
        }

        /** Everything, seen from the diagnostic connector's pins. */
        Mesh atConnector() {
            int tap = layout.tapOfConnector();
            double stub = layout.taps.get(tap).stubOhm();
            return withSupply(at(tap, true).behind(stub + connectorHighOhm, stub + connectorLowOhm));
        }

        /** Everything, seen from a module's pins with the module on them. */
        Mesh atModule(int node) {
            int tap = layout.tapOfNode(node);
            double stub = layout.taps.get(tap).stubOhm();
            return withSupply(at(tap, false).behind(stub, stub).join(pins(node)));
        }

        /** One conductor from end to end. */
        double lineOhm(boolean high) {
            double sum = layout.metres * layout.wireOhmPerMetre;
            for (Point point : points) {
                sum += high ? point.highOhm : point.lowOhm;
            }
            return sum;
        }

        Mesh withSupply(Mesh seen) {
            if (!powered && layout.circuit.supplyToGroundOhm().isPresent()) {
                seen.supplyGround += Mesh.siemens(layout.circuit.supplyToGroundOhm().getAsDouble());
            }
            return seen;
        }
    }
}
