package comebackledger.bus;

/**
 * What hangs on the trunk at one point.
 *
 * @param node its number in the build, or {@link #NONE}
 * @param terminator a terminator of its own, by number, or {@link #NONE}
 * @param stubOhm of each line between the trunk and the pins
 */
record Tap(double metres, int node, int terminator, boolean connector, double stubOhm) {
    static final int NONE = -1;

    static Tap end(double metres) {
        return new Tap(metres, NONE, NONE, false, 0);
    }

    /** At one point of the trunk: terminators of the near end, modules, the connector, terminators of the far end. */
    int order(double trunkMetres) {
        if (terminator != NONE) {
            return metres < trunkMetres / 2 ? 1 : 4;
        }
        return node != NONE ? 2 : connector ? 3 : metres <= 0 ? 0 : 5;
    }

    /** Nothing but the end of the trunk. */
    boolean isEnd() {
        return node == NONE && terminator == NONE && !connector;
    }
}
