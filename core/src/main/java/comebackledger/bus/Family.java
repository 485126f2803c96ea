package comebackledger.bus;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One suspicion whose resistance is still free: a kind of fault at one part, or in one stretch of the trunk.
 *
 * @param part the module or terminator by number, or {@link Tap#NONE}
 * @param gap the stretch by number, or {@link Tap#NONE}
 * @param metres along the trunk, for a fault of the wire
 * @param odds before any evidence
 * @param range of the free resistance; empty: it has none
 * @param also the second fault of a pair, whose resistance is fixed
 */
record Family(FaultKind kind, int part, Optional<Line> line, int gap, double metres, double odds, Optional<Decades> range,
        Optional<Family> also) {

    private static final double NOMINAL_OHM = 120;
    private static final double NO_PATH_OHM = 1e9;

    /** A resistance of which every decade is alike, ohm. */
    record Decades(double from, double to) {
        double count() {
            return Math.log10(to / from);
        }
    }

    Family withOdds(double other) {
        return new Family(kind, part, line, gap, metres, other, range, also);
    }

    /** The fault itself, with this resistance where it has one free; without end: no path through it. */
    Fault fault(Layout layout, double ohm) {
        Optional<String> name = switch (kind) {
            case TERMINATOR_MISSING, TERMINATOR_DRIFTED -> Optional.of(layout.terminators.get(part).name());
            case SHORT_TO_GROUND, SHORT_TO_SUPPLY -> line.equals(Optional.of(Line.CENTRE))
                    ? Optional.of(layout.terminators.get(part).name())
                    : Optional.empty();
            case MODULE_STUB, MODULE_SUPPLY, MODULE_INTERNAL, MODULE_SHUNT, REPORTER_ITSELF, SENDER_DATA ->
                Optional.of(layout.nodes.get(part).module());
            default -> Optional.empty();
        };
        OptionalDouble resistance = kind == FaultKind.EXTRA_TERMINATOR
                ? OptionalDouble.of(NOMINAL_OHM)
                : range.isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(Math.min(ohm, NO_PATH_OHM));
        return new Fault(kind, name, line, resistance, metres >= 0 ? OptionalDouble.of(metres) : OptionalDouble.empty(), List.of());
    }

    List<Fault> faults(Layout layout, double ohm) {
        Fault first = fault(layout, ohm);
        return also.isEmpty() ? List.of(first) : List.of(first, also.get().fault(layout, Mesh.OPEN));
    }
}
