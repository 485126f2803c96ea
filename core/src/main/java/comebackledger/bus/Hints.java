package comebackledger.bus;

import java.util.ArrayList;
import java.util.List;

/** Which test tells most of each kind of fault, and what to take care of with each test. */
final class Hints {
    private static final String MAKER = "The maker's service information and licensed practice come first.";
    private static final String POWER_OFF = "Ohmmeter only with the power off: batteries disconnected by the maker's procedure, modules asleep.";
    private static final String LIVE = "Live circuit: no running engine, no moving vehicle, keep clear of hot parts; insulated probes, one hand.";

    private Hints() {}

    static TestKind teller(FaultKind kind) {
        return switch (kind) {
            case TERMINATOR_MISSING, TERMINATOR_DRIFTED, EXTRA_TERMINATOR -> TestKind.TERMINATOR_OUT;
            case TRUNK_OPEN, TRUNK_SERIES_RESISTANCE -> TestKind.LINE_END_TO_END;
            case TRUNK_SHORT_HIGH_LOW -> TestKind.SPLIT_TRUNK;
            case SHORT_TO_GROUND -> TestKind.HIGH_GROUND_AT_CONNECTOR;
            case SHORT_TO_SUPPLY -> TestKind.HIGH_SUPPLY_AT_CONNECTOR;
            case MODULE_SUPPLY, SUPPLY_LOW -> TestKind.SUPPLY_DROP;
            case MODULE_STUB, CONNECTOR_FAULT -> TestKind.HIGH_LOW_AT_MODULE;
            case MODULE_INTERNAL, MODULE_UNPLUGGED, REPORTER_ITSELF -> TestKind.UNPLUG_MODULE;
            case MODULE_SHUNT -> TestKind.MODULE_PINS;
            case NONE_FOUND, INTERMITTENT_NONE_PRESENT -> TestKind.WIGGLE;
            case TEST_CONDITION -> TestKind.REPEAT_POWER_OFF;
            case SENDER_DATA, OTHER -> TestKind.ROLL_CALL;
        };
    }

    static List<String> cautions(TestKind test) {
        List<String> cautions = new ArrayList<>();
        switch (test) {
            case REPEAT_POWER_OFF, HIGH_LOW_AT_CONNECTOR, HIGH_GROUND_AT_CONNECTOR, LOW_GROUND_AT_CONNECTOR, HIGH_LOW_AT_MODULE, MODULE_PINS,
                    TERMINATOR_OUT, SPLIT_TRUNK, LINE_END_TO_END ->
                cautions
                        .add(POWER_OFF);
            case HIGH_SUPPLY_AT_CONNECTOR, LOW_SUPPLY_AT_CONNECTOR -> {
                cautions.add(POWER_OFF);
                cautions.add("Second lead on the disconnected positive cable, never on a battery that is connected.");
            }
            case ROLL_CALL, RESTING_VOLTAGES, SUPPLY_DROP, WIGGLE -> cautions.add(LIVE);
            case UNPLUG_MODULE -> {
                cautions.add("Power off before a plug is pulled or put back.");
                cautions.add(LIVE);
            }
        }
        cautions.add(MAKER);
        return cautions;
    }

    static String tells(TestKind test) {
        return switch (test) {
            case REPEAT_POWER_OFF -> "Takes the live modules out of the reading.";
            case ROLL_CALL -> "Tells who answers, and so on which side of a break they are.";
            case HIGH_LOW_AT_CONNECTOR -> "Counts terminators and shows a break or a short between the lines.";
            case HIGH_GROUND_AT_CONNECTOR, LOW_GROUND_AT_CONNECTOR -> "Shows a short to ground, and how far away.";
            case HIGH_SUPPLY_AT_CONNECTOR, LOW_SUPPLY_AT_CONNECTOR -> "Shows a short to the positive cable.";
            case RESTING_VOLTAGES -> "Shows a short to ground or supply without disconnecting anything.";
            case HIGH_LOW_AT_MODULE -> "The same reading from another place finds the side of a break or a short.";
            case MODULE_PINS -> "Measures the module by itself: a load inside, or its terminator.";
            case UNPLUG_MODULE -> "The reading, or the bus, comes back if this module pulls it down.";
            case TERMINATOR_OUT -> "Measures the terminator itself, and the rest without it.";
            case SPLIT_TRUNK -> "Measures both halves of the trunk by themselves.";
            case LINE_END_TO_END -> "Shows a break or a joint in one line.";
            case WIGGLE -> "Makes an intermittent joint show while a reading is watched.";
            case SUPPLY_DROP -> "Shows a weak supply or ground under load.";
        };
    }
}
