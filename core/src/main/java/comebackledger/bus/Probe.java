package comebackledger.bus;

/**
 * One number that a meter can show: which one, and where.
 *
 * @param part the module or terminator by number, where the place needs one
 */
record Probe(Measure measure, Where where, int part) {
    enum Measure {
        HIGH_LOW, HIGH_GROUND, LOW_GROUND, HIGH_SUPPLY, LOW_SUPPLY, HIGH_VOLT, LOW_VOLT, HIGH_LINE, LOW_LINE
    }

    enum Where {
        /** The diagnostic connector. */
        CONNECTOR,
        /** A module's pins, the module on them. */
        MODULE,
        /** A module by itself, unplugged. */
        PINS,
        /** The connector, with a module unplugged. */
        WITHOUT_MODULE,
        /** A terminator by itself. */
        TERMINATOR,
        /** The connector, with a terminator taken off. */
        WITHOUT_TERMINATOR,
        /** The trunk split at a module, or at the connector: the half toward terminator a. */
        TOWARD_A, TOWARD_B
    }

    static Probe at(Measure measure) {
        return new Probe(measure, Where.CONNECTOR, Tap.NONE);
    }

    boolean isVoltage() {
        return measure == Measure.HIGH_VOLT || measure == Measure.LOW_VOLT;
    }

    boolean isToGround() {
        return measure == Measure.HIGH_GROUND || measure == Measure.LOW_GROUND;
    }

    boolean isToSupply() {
        return measure == Measure.HIGH_SUPPLY || measure == Measure.LOW_SUPPLY;
    }

    /** Whether the second lead lies on ground or on the positive cable. */
    boolean isToRail() {
        return isToGround() || isToSupply();
    }

    /** Without leads; NaN where nothing drives a voltage. */
    double of(Trunk trunk, Trunk.Laid laid) {
        return isLine() ? laid.lineOhm(measure == Measure.HIGH_LINE) : of(seen(trunk, laid));
    }

    /** One conductor, end to end. */
    boolean isLine() {
        return measure == Measure.HIGH_LINE || measure == Measure.LOW_LINE;
    }

    /** Whether both are read off the same piece of network. */
    boolean isBeside(Probe other) {
        return where == other.where && part == other.part && isVoltage() == other.isVoltage() && !isLine() && !other.isLine();
    }

    double of(Mesh seen) {
        return switch (measure) {
            case HIGH_LOW -> seen.highLowOhm();
            case HIGH_GROUND -> seen.highGroundOhm();
            case LOW_GROUND -> seen.lowGroundOhm();
            case HIGH_SUPPLY -> seen.highSupplyOhm();
            case LOW_SUPPLY -> seen.lowSupplyOhm();
            case HIGH_VOLT -> seen.highVolt();
            case LOW_VOLT -> seen.lowVolt();
            case HIGH_LINE, LOW_LINE -> Mesh.OPEN;
        };
    }

    Mesh seen(Trunk trunk, Trunk.Laid laid) {
        Layout layout = trunk.layout;
        return switch (where) {
            case CONNECTOR -> laid.atConnector();
            case MODULE -> laid.atModule(part);
            case PINS -> laid.pins(part);
            case WITHOUT_MODULE -> laid.without(layout.tapOfNode(part)).atConnector();
            case TERMINATOR -> laid.terminator(part);
            case WITHOUT_TERMINATOR -> laid.withoutTerminator(part).atConnector();
            case TOWARD_A -> laid.withSupply(laid.before(splitTap(layout)));
            case TOWARD_B -> laid.withSupply(laid.after(splitTap(layout)));
        };
    }

    private int splitTap(Layout layout) {
        return part == Tap.NONE ? layout.tapOfConnector() : layout.tapOfNode(part);
    }
}
