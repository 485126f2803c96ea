package comebackledger.bus;

import java.util.List;
import java.util.Optional;
import java.util.TreeSet;

/**
 * How likely the roll call and the codes are under a suspicion: who would still answer at the connector, and who would still hear whom.
 *
 * <p>A fault breaks communication or, where it is a weak joint or a weak short, only perhaps: the two pictures are weighed by
 * {@link #broken}. The chances below are common practice, no source; only their order matters.
 */
final class Talk {
    private static final double SILENT_FOR_NOTHING = 0.01;
    private static final double ANSWERS_THOUGH_CUT = 0.03;
    private static final double ACTIVE_FOR_NOTHING = 0.03;
    private static final double STORED_FOR_NOTHING = 0.3;
    /** History is only a little likelier beside a fault that would make it: most of what is stored healed. */
    private static final double STORED_BEFORE = 0.6;
    private static final double SAYS_NOTHING = 0.5;
    private static final double LOW_SUPPLY_FOR_NOTHING = 0.005;
    private static final double SAID = 0.5;
    private static final double ACCUSED_BY_NOBODY = 0.4;
    private static final double SILENT_ON_LOW_SUPPLY = 0.3;
    /** A terminated bus of 60 ohm has a level of about 2 V; at a third of the load it is at the receivers' threshold of 0.9 V (ISO 11898-2, from memory). */
    private static final double DEAD_LOAD_OHM = 20;

    private static final double LOG_SILENT_CUT = Math.log(1 - ANSWERS_THOUGH_CUT);
    private static final double LOG_ANSWERS_CUT = Math.log(ANSWERS_THOUGH_CUT);
    private static final double LOG_SILENT_WHOLE = Math.log(SILENT_FOR_NOTHING);
    private static final double LOG_ANSWERS_WHOLE = Math.log(1 - SILENT_FOR_NOTHING);

    private final Layout layout;
    private final int count;
    /** 1 answered, -1 silent, 0 not called. */
    private final int[] called;
    private final boolean codesRead;
    private final List<CodeSign> codes;
    private final boolean orderKnown;
    private final double lowSupply;
    private final int silentCount;

    Talk(Layout layout, Optional<RollCall> rollCall, Optional<List<CodeSign>> codes, boolean orderKnown) {
        this.layout = layout;
        this.count = layout.nodes.size();
        this.called = new int[count];
        rollCall.ifPresent(call -> {
            call.answered().forEach(module -> mark(module, 1));
            call.silent().forEach(module -> mark(module, -1));
        });
        this.silentCount = (int) java.util.Arrays.stream(called).filter(state -> state < 0).count();
        this.codesRead = codes.isPresent();
        this.codes = codes.orElse(List.of());
        this.orderKnown = orderKnown;
        this.lowSupply = this.codes.stream().anyMatch(code -> code.says() == CodeSign.Says.LOW_SUPPLY) ? LOW_SUPPLY_FOR_NOTHING : 1;
    }

    private void mark(String module, int state) {
        int node = layout.node(module);
        if (node != Tap.NONE) {
            called[node] = state;
        }
    }

    /** Log-likelihoods of the two pictures of one suspicion. */
    record Pictures(double logBroken, double logWhole) {
        double log(double broken) {
            double most = Math.max(logBroken, logWhole);
            return most + Math.log(broken * Math.exp(logBroken - most) + (1 - broken) * Math.exp(logWhole - most) + 1e-300);
        }
    }

    /** The chance that the fault, with this resistance, breaks communication. */
    double broken(Family family, double ohm) {
        double second = family.also().map(also -> 0.05).orElse(0.0);
        double one = switch (family.kind()) {
            case TRUNK_SHORT_HIGH_LOW, MODULE_SHUNT -> falls(60 * ohm / (60 + ohm), DEAD_LOAD_OHM, 6);
            case EXTRA_TERMINATOR -> 0.02;
            case TERMINATOR_MISSING, TERMINATOR_DRIFTED -> family.also().isPresent() ? 0.5 : 0.03;
            case SHORT_TO_GROUND -> family.line().equals(Optional.of(Line.CENTRE)) ? 0.3 : 0.9 * falls(ohm, 100, 2);
            case SHORT_TO_SUPPLY -> 0.9 * falls(ohm, 1000, 2);
            case TRUNK_SERIES_RESISTANCE -> 1 - falls(ohm, 250, 2);
            case CONNECTOR_FAULT -> Double.isFinite(ohm) ? 1 - falls(ohm, 250, 3) : 0.98;
            case MODULE_INTERNAL -> 0.2;
            case TRUNK_OPEN, MODULE_SUPPLY, MODULE_STUB -> 0.98;
            case REPORTER_ITSELF -> 0.1;
            case SUPPLY_LOW -> 0.7;
            case NONE_FOUND, INTERMITTENT_NONE_PRESENT, TEST_CONDITION, MODULE_UNPLUGGED, SENDER_DATA, OTHER -> 0;
        };
        return one + second * (1 - one);
    }

    /** The chance that no frame runs on the trunk at all: one module lost, or a break, leaves the rest talking. */
    double quiet(Family family, double ohm) {
        return switch (family.kind()) {
            case TRUNK_SHORT_HIGH_LOW, MODULE_SHUNT, EXTRA_TERMINATOR, TERMINATOR_MISSING, TERMINATOR_DRIFTED, SHORT_TO_GROUND, SHORT_TO_SUPPLY,
                    MODULE_INTERNAL ->
                broken(family, ohm);
            case TRUNK_SERIES_RESISTANCE, CONNECTOR_FAULT, TRUNK_OPEN, MODULE_SUPPLY, MODULE_STUB, REPORTER_ITSELF, SUPPLY_LOW, NONE_FOUND,
                    INTERMITTENT_NONE_PRESENT, TEST_CONDITION, MODULE_UNPLUGGED, SENDER_DATA, OTHER ->
                0;
        };
    }

    private static double falls(double value, double middle, int steepness) {
        double ratio = value / middle;
        double power = 1;
        for (int i = 0; i < steepness; i++) {
            power *= ratio;
        }
        return 1 / (1 + power);
    }

    Pictures pictures(Family family) {
        double whole = log(family, standing(family));
        double broken = switch (family.kind()) {
            case TRUNK_OPEN, TRUNK_SERIES_RESISTANCE -> logOpen(family);
            case MODULE_SUPPLY, MODULE_STUB, REPORTER_ITSELF -> log(family, alone(family.part()));
            case CONNECTOR_FAULT -> log(family, new State(all(), new int[count], false));
            case SUPPLY_LOW -> logSupply(family);
            case MODULE_INTERNAL, TRUNK_SHORT_HIGH_LOW, MODULE_SHUNT, EXTRA_TERMINATOR, TERMINATOR_MISSING, TERMINATOR_DRIFTED, SHORT_TO_GROUND,
                    SHORT_TO_SUPPLY, NONE_FOUND, INTERMITTENT_NONE_PRESENT, TEST_CONDITION, MODULE_UNPLUGGED, SENDER_DATA, OTHER ->
                log(
                        family, new State(all(), apart(), true));
        };
        double calm = family.kind() == FaultKind.MODULE_INTERNAL ? log(family, alone(family.part())) : whole;
        return new Pictures(broken, calm);
    }

    /** Beside a break, the first fault of a pair changes nothing of who is cut off. */
    private State standing(Family family) {
        Optional<Family> cut = family.also().filter(second -> second.kind() == FaultKind.TRUNK_OPEN);
        return cut.isPresent() && orderKnown
                ? cut(cut.get().metres(), layout.connectorMetres <= cut.get().metres())
                : new State(new boolean[count], new int[count], false);
    }

    private boolean[] all() {
        boolean[] silent = new boolean[count];
        java.util.Arrays.fill(silent, true);
        return silent;
    }

    private int[] apart() {
        int[] groups = new int[count];
        for (int i = 0; i < count; i++) {
            groups[i] = i;
        }
        return groups;
    }

    private State alone(int node) {
        boolean[] silent = new boolean[count];
        int[] groups = new int[count];
        silent[node] = true;
        groups[node] = 1;
        return new State(silent, groups, false);
    }

    /** Who would be silent at the connector, and who hears whom: the same group. */
    private record State(boolean[] silent, int[] groups, boolean dead) {}

    private double logOpen(Family family) {
        if (!orderKnown) {
            return logSomewhere(family);
        }
        if (layout.connectorKnown) {
            return log(family, cut(family.metres(), layout.connectorMetres <= family.metres()));
        }
        double nearA = 1 - family.metres() / layout.metres;
        double one = log(family, cut(family.metres(), true));
        double other = log(family, cut(family.metres(), false));
        double most = Math.max(one, other);
        return most + Math.log(nearA * Math.exp(one - most) + (1 - nearA) * Math.exp(other - most));
    }

    private State cut(double metres, boolean connectorTowardA) {
        boolean[] silent = new boolean[count];
        int[] groups = new int[count];
        for (int i = 0; i < count; i++) {
            boolean beyond = layout.nodeMetres[i] > metres;
            groups[i] = beyond ? 1 : 0;
            silent[i] = beyond == connectorTowardA;
        }
        return new State(silent, groups, false);
    }

    /** Nobody knows the order: the break may part the modules in any way, and none of them is likelier than its share. */
    private double logSomewhere(Family family) {
        boolean[] silent = new boolean[count];
        int[] groups = new int[count];
        for (int i = 0; i < count; i++) {
            silent[i] = called[i] < 0;
            groups[i] = silent[i] ? 1 : 0;
        }
        return log(family, new State(silent, groups, false)) - Math.log(count + 1.0) - (silentCount > 0 && silentCount < count ? Math.log(count) : 0);
    }

    private double logSupply(Family family) {
        double sum = 0;
        for (int state : called) {
            sum += state == 0 ? 0 : Math.log(state < 0 ? SILENT_ON_LOW_SUPPLY : 1 - SILENT_ON_LOW_SUPPLY);
        }
        return sum + codes.size() * Math.log(0.9) - Math.log(0.9) * Math.min(codes.size(), 1) + (family.part() == Tap.NONE ? 0 : Math.log(SAID));
    }

    private double log(Family family, State state) {
        return logRoll(state) + (family.kind() == FaultKind.SUPPLY_LOW ? 0 : logCodes(family, state));
    }

    private double logRoll(State state) {
        double sum = 0;
        for (int i = 0; i < count; i++) {
            if (called[i] != 0) {
                sum += state.silent[i]
                        ? called[i] < 0 ? LOG_SILENT_CUT : LOG_ANSWERS_CUT
                        : called[i] < 0 ? LOG_SILENT_WHOLE : LOG_ANSWERS_WHOLE;
            }
        }
        return sum;
    }

    private double logCodes(Family family, State state) {
        if (!codesRead) {
            return 0;
        }
        boolean activeExplained = false;
        boolean storedSign = false;
        boolean badData = false;
        TreeSet<String> activeAccused = new TreeSet<>();
        TreeSet<String> activeReporters = new TreeSet<>();
        TreeSet<String> storedAccused = new TreeSet<>();
        TreeSet<String> storedReporters = new TreeSet<>();
        TreeSet<String> badSenders = new TreeSet<>();
        boolean[] accused = new boolean[count];
        boolean[] said = new boolean[count];
        boolean strayBusOff = false;
        boolean storedExplained = false;
        for (CodeSign code : codes) {
            switch (code.says()) {
                case LOW_SUPPLY -> {}
                case BUS_OFF -> {
                    if (code.active() && (state.dead || family.kind() == FaultKind.MODULE_INTERNAL)) {
                        activeExplained = true;
                        by(said, code.reporter().map(layout::node).orElse(Tap.NONE));
                    } else {
                        strayBusOff |= code.active();
                        storedSign |= !code.active();
                    }
                }
                case INVALID_DATA -> {
                    int node = code.accused().map(layout::node).orElse(Tap.NONE);
                    if (family.kind() == FaultKind.SENDER_DATA && family.part() == node) {
                        badData = true;
                    } else {
                        badSenders.add(code.accused().orElse(""));
                    }
                }
                case LOST_COMMUNICATION -> {
                    int who = code.accused().map(layout::node).orElse(Tap.NONE);
                    int by = code.reporter().map(layout::node).orElse(Tap.NONE);
                    if (who != Tap.NONE) {
                        accused[who] = true;
                    }
                    boolean explained = explains(family, state, by, who);
                    if (explained && code.active()) {
                        activeExplained = true;
                        by(said, by);
                    } else if (code.active()) {
                        activeAccused.add(code.accused().orElse(""));
                        activeReporters.add(code.reporter().orElse(""));
                    } else {
                        storedExplained |= explained;
                        storedAccused.add(code.accused().orElse(""));
                        storedReporters.add(code.reporter().orElse(""));
                    }
                }
            }
        }
        double people = Math.max(count, 1);
        double sum = Math.log(lowSupply);
        // Stray accusations need as many causes as there are accused or accusers, whichever is fewer.
        sum += Math.min(activeAccused.size(), activeReporters.size()) * Math.log(ACTIVE_FOR_NOTHING / people);
        sum += Math.min(storedAccused.size(), storedReporters.size()) * Math.log((storedExplained ? STORED_BEFORE : STORED_FOR_NOTHING) / people);
        sum += badSenders.size() * Math.log(ACTIVE_FOR_NOTHING / people);
        sum += strayBusOff ? Math.log(ACTIVE_FOR_NOTHING) : 0;
        sum += storedSign ? Math.log(STORED_FOR_NOTHING) : 0;
        sum += activeExplained || badData ? Math.log(SAID) : 0;
        sum += missing(family, state, accused, said);
        return sum;
    }

    private boolean explains(Family family, State state, int by, int who) {
        if (family.kind() == FaultKind.REPORTER_ITSELF) {
            return by == family.part();
        }
        if (state.dead) {
            return true;
        }
        if (who == Tap.NONE) {
            return java.util.Arrays.stream(state.groups).anyMatch(group -> group != 0);
        }
        if (by == Tap.NONE) {
            return java.util.Arrays.stream(state.groups).anyMatch(group -> group != state.groups[who]);
        }
        return state.groups[by] != state.groups[who];
    }

    private static void by(boolean[] said, int reporter) {
        if (reporter != Tap.NONE) {
            said[reporter] = true;
        }
    }

    /** Codes that should be there and are not; few modules watch all others, so three stand for the rest. */
    private double missing(Family family, State state, boolean[] accused, boolean[] said) {
        if (family.kind() == FaultKind.REPORTER_ITSELF) {
            int spared = 0;
            for (int i = 0; i < count; i++) {
                spared += accused[i] || i == family.part() ? 0 : 1;
            }
            return Math.min(spared, 3) * Math.log(ACCUSED_BY_NOBODY);
        }
        if (state.dead) {
            int mute = 0;
            for (boolean one : said) {
                mute += one ? 0 : 1;
            }
            return Math.min(mute, 3) * Math.log(SAYS_NOTHING);
        }
        int expected = 0;
        for (int i = 0; i < count; i++) {
            boolean unheard = false;
            for (int by = 0; by < count; by++) {
                unheard |= state.groups[by] != state.groups[i] && !state.silent[by];
            }
            expected += unheard && !accused[i] ? 1 : 0;
        }
        return Math.min(expected, 3) * Math.log(ACCUSED_BY_NOBODY);
    }

    /** Under a fault of no list: everybody, nobody, or some stretch of modules may be silent, and anyone may be accused. */
    double logOther() {
        int answered = (int) java.util.Arrays.stream(called).filter(state -> state > 0).count();
        int asked = answered + silentCount;
        double roll = asked == 0 ? 0 : silentCount == 0 || answered == 0 ? Math.log(0.35) : Math.log(0.3) - 2 * Math.log(asked);
        TreeSet<String> accused = new TreeSet<>();
        codes.forEach(code -> accused.add(code.says() + code.accused().orElse("")));
        return roll + Math.min(accused.size(), 3) * Math.log(0.2 / Math.max(count, 1));
    }

    /** What a roll call would show, as a number that differs where the outcome does: everybody, nobody, without a module, one side. */
    long outcome(Family family, double ohm) {
        if (broken(family, ohm) < 0.5) {
            return 0;
        }
        return switch (family.kind()) {
            case TRUNK_OPEN, TRUNK_SERIES_RESISTANCE -> cutOutcome(family);
            case MODULE_SUPPLY, MODULE_STUB, REPORTER_ITSELF, MODULE_INTERNAL -> 1000 + family.part();
            case SUPPLY_LOW -> 3;
            case NONE_FOUND, INTERMITTENT_NONE_PRESENT, TEST_CONDITION, TERMINATOR_MISSING, TERMINATOR_DRIFTED, EXTRA_TERMINATOR,
                    TRUNK_SHORT_HIGH_LOW, SHORT_TO_GROUND, SHORT_TO_SUPPLY, MODULE_SHUNT, MODULE_UNPLUGGED, SENDER_DATA, CONNECTOR_FAULT, OTHER ->
                1;
        };
    }

    private long cutOutcome(Family family) {
        boolean[] silent = cut(family.metres(), layout.connectorMetres <= family.metres()).silent;
        int quiet = 0;
        for (boolean one : silent) {
            quiet += one ? 1 : 0;
        }
        return quiet == 0
                ? 0
                : quiet == count ? 1 : quiet == 1 && silent[count - 1] ? 1000 + count - 1 : quiet == 1 && silent[0] ? 1000 : 2000 + quiet;
    }
}
