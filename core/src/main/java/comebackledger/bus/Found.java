package comebackledger.bus;

import java.util.List;

/** Tests whose result is that something was found or not: how likely each suspicion makes it (common practice, no source). */
final class Found {
    private static final double SURE = 0.95;
    private static final double BY_CHANCE = 0.03;
    private static final double OFTEN = 0.6;

    private Found() {}

    static double logOf(Layout layout, Family family, List<DoneTest> done) {
        double sum = 0;
        for (DoneTest test : done) {
            if (test.found().isPresent()) {
                int node = test.at().map(layout::node).orElse(Tap.NONE);
                double chance = chance(family, test.test(), node);
                sum += Math.log(test.found().get() ? chance : 1 - chance);
            }
        }
        return sum;
    }

    /** The chance that a test at a module finds what it looks for. */
    static double chance(Family family, TestKind test, int node) {
        return switch (test) {
            case UNPLUG_MODULE -> loads(family.kind()) && family.part() == node ? SURE : BY_CHANCE;
            case SUPPLY_DROP -> family.kind() == FaultKind.MODULE_SUPPLY && family.part() == node
                    ? SURE
                    : family.kind() == FaultKind.SUPPLY_LOW
                            ? OFTEN
                            : BY_CHANCE;
            case WIGGLE -> moves(family) ? OFTEN : BY_CHANCE;
            case MODULE_PINS, TERMINATOR_OUT, SPLIT_TRUNK, LINE_END_TO_END, HIGH_LOW_AT_MODULE, REPEAT_POWER_OFF, ROLL_CALL, HIGH_LOW_AT_CONNECTOR,
                    HIGH_GROUND_AT_CONNECTOR, LOW_GROUND_AT_CONNECTOR, HIGH_SUPPLY_AT_CONNECTOR, LOW_SUPPLY_AT_CONNECTOR, RESTING_VOLTAGES ->
                0.5;
        };
    }

    private static boolean loads(FaultKind kind) {
        return kind == FaultKind.MODULE_SHUNT || kind == FaultKind.MODULE_INTERNAL;
    }

    private static boolean moves(Family family) {
        return switch (family.kind()) {
            case INTERMITTENT_NONE_PRESENT, TRUNK_SERIES_RESISTANCE, TRUNK_OPEN, MODULE_STUB, CONNECTOR_FAULT -> true;
            case NONE_FOUND, TEST_CONDITION, TERMINATOR_MISSING, TERMINATOR_DRIFTED, EXTRA_TERMINATOR, TRUNK_SHORT_HIGH_LOW, SHORT_TO_GROUND,
                    SHORT_TO_SUPPLY, MODULE_SUPPLY, MODULE_INTERNAL, MODULE_SHUNT, MODULE_UNPLUGGED, REPORTER_ITSELF, SENDER_DATA, SUPPLY_LOW,
                    OTHER ->
                false;
        };
    }

}
