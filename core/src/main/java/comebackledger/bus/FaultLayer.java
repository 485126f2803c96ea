package comebackledger.bus;

import comebackledger.Require;
import java.util.List;

/** What each fault of the vocabulary is, electrically. Those that change no current (data, a receiver, a dead module) change nothing here. */
final class FaultLayer {
    private FaultLayer() {}

    static void lay(Trunk trunk, Trunk.Laid laid, Fault fault) {
        Layout layout = trunk.layout;
        switch (fault.kind()) {
            case TERMINATOR_MISSING -> without(trunk, laid, terminator(layout, fault), Mesh.OPEN);
            case TERMINATOR_DRIFTED -> without(trunk, laid, terminator(layout, fault), fault.ohm().orElse(Mesh.OPEN));
            case EXTRA_TERMINATOR -> laid.across(metres(layout, fault), highLow(fault.ohm().orElse(120)));
            case TRUNK_SHORT_HIGH_LOW -> laid.across(metres(layout, fault), highLow(fault.ohm().orElse(0)));
            case TRUNK_OPEN -> laid.inLine(metres(layout, fault), in(fault, Line.HIGH, Mesh.OPEN), in(fault, Line.LOW, Mesh.OPEN));
            case TRUNK_SERIES_RESISTANCE -> {
                double ohm = fault.ohm().orElse(Mesh.OPEN);
                laid.inLine(metres(layout, fault), in(fault, Line.HIGH, ohm), in(fault, Line.LOW, ohm));
            }
            case CONNECTOR_FAULT -> {
                double ohm = fault.ohm().orElse(Mesh.OPEN);
                laid.atConnector(in(fault, Line.HIGH, ohm), in(fault, Line.LOW, ohm));
            }
            case SHORT_TO_GROUND, SHORT_TO_SUPPLY -> toRail(trunk, laid, fault);
            case MODULE_STUB, MODULE_UNPLUGGED -> laid.replace(layout.tapOfNode(node(layout, fault)), new Mesh());
            case MODULE_SHUNT -> module(trunk, laid, fault, true);
            case MODULE_SUPPLY -> module(trunk, laid, fault, false);
            case NONE_FOUND, INTERMITTENT_NONE_PRESENT, TEST_CONDITION, MODULE_INTERNAL, REPORTER_ITSELF, SENDER_DATA, SUPPLY_LOW, OTHER -> {}
        }
    }

    private static Mesh highLow(double ohm) {
        Mesh mesh = new Mesh();
        mesh.highLow = Mesh.siemens(ohm);
        return mesh;
    }

    private static double in(Fault fault, Line line, double ohm) {
        Line on = fault.line().orElse(Line.BOTH);
        return on == line || on == Line.BOTH ? ohm : 0;
    }

    private static void module(Trunk trunk, Trunk.Laid laid, Fault fault, boolean alive) {
        int node = node(trunk.layout, fault);
        int tap = trunk.layout.tapOfNode(node);
        if (fault.kind() == FaultKind.MODULE_SHUNT) {
            laid.load(node, Mesh.siemens(fault.ohm().orElse(0)));
        }
        double stub = trunk.layout.taps.get(tap).stubOhm();
        laid.replace(tap, laid.pins(node, alive).behind(stub, stub));
    }

    /** Takes a terminator off and puts another resistance in its place. */
    private static void without(Trunk trunk, Trunk.Laid laid, int terminator, double ohm) {
        Mesh other = new Mesh();
        other.highLow = ohm == Mesh.OPEN ? 0 : Mesh.siemens(ohm);
        exchange(trunk, laid, terminator, other);
    }

    private static void exchange(Trunk trunk, Trunk.Laid laid, int terminator, Mesh other) {
        Layout layout = trunk.layout;
        int tap = layout.tapOfTerminator(terminator);
        int node = layout.taps.get(tap).node();
        laid.oddTerminator(terminator, other);
        if (node == Tap.NONE) {
            laid.replace(tap, other);
            return;
        }
        double stub = layout.taps.get(tap).stubOhm();
        laid.replace(tap, laid.pins(node).behind(stub, stub));
    }

    private static void toRail(Trunk trunk, Trunk.Laid laid, Fault fault) {
        double siemens = Mesh.siemens(fault.ohm().orElse(0));
        Line line = fault.line().orElse(Line.HIGH);
        if (line == Line.CENTRE) {
            int terminator = terminator(trunk.layout, fault);
            exchange(trunk, laid, terminator, split(trunk, fault.kind(), trunk.terminatorOhm(terminator) / 2, siemens));
            return;
        }
        Mesh mesh = new Mesh();
        if (line != Line.LOW) {
            highToRail(trunk, fault.kind(), mesh, siemens);
        }
        if (line != Line.HIGH) {
            lowToRail(trunk, fault.kind(), mesh, siemens);
        }
        laid.across(metres(trunk.layout, fault), mesh);
    }

    private static void highToRail(Trunk trunk, FaultKind kind, Mesh mesh, double siemens) {
        if (kind == FaultKind.SHORT_TO_SUPPLY && !trunk.powered) {
            mesh.highSupply += siemens;
        } else {
            mesh.highGround += siemens;
            mesh.highAmpere += kind == FaultKind.SHORT_TO_SUPPLY ? siemens * trunk.supplyVolt : 0;
        }
    }

    private static void lowToRail(Trunk trunk, FaultKind kind, Mesh mesh, double siemens) {
        if (kind == FaultKind.SHORT_TO_SUPPLY && !trunk.powered) {
            mesh.lowSupply += siemens;
        } else {
            mesh.lowGround += siemens;
            mesh.lowAmpere += kind == FaultKind.SHORT_TO_SUPPLY ? siemens * trunk.supplyVolt : 0;
        }
    }

    /** Two halves, and the middle joined to a rail: the middle is eliminated as a star of three. */
    private static Mesh split(Trunk trunk, FaultKind kind, double halfOhm, double toRail) {
        double half = Mesh.siemens(halfOhm);
        double sum = 2 * half + toRail;
        Mesh mesh = new Mesh();
        mesh.highLow = half * half / sum;
        highToRail(trunk, kind, mesh, half * toRail / sum);
        lowToRail(trunk, kind, mesh, half * toRail / sum);
        return mesh;
    }

    private static int terminator(Layout layout, Fault fault) {
        int found = fault.part().map(layout::terminator).orElse(Tap.NONE);
        Require.that(found != Tap.NONE, "%s needs one of the build's terminators: %s", fault.kind().word(),
                layout.terminators.stream().map(Circuit.Terminator::name).toList());
        return found;
    }

    private static int node(Layout layout, Fault fault) {
        int found = fault.part().map(layout::node).orElse(Tap.NONE);
        Require.that(found != Tap.NONE, "%s needs one of the build's modules: %s", fault.kind().word(),
                layout.nodes.stream().map(Circuit.Node::module).toList());
        return found;
    }

    /** The told distance, else half-way between the told neighbours, else at the told module, else in the middle of the trunk. */
    private static double metres(Layout layout, Fault fault) {
        if (fault.atMetres().isPresent()) {
            double metres = fault.atMetres().getAsDouble();
            Require.that(metres <= layout.metres, "atMetres must be at most the trunk's %s m, was %s", layout.metres, metres);
            return metres;
        }
        if (!fault.between().isEmpty()) {
            List<String> between = fault.between();
            Require.that(layout.between(between).isPresent(), "between must name two modules or terminators of the build, was %s", between);
            return layout.between(between).getAsDouble();
        }
        int node = fault.part().map(layout::node).orElse(Tap.NONE);
        return node != Tap.NONE ? layout.nodeMetres[node] : layout.metres / 2;
    }
}
