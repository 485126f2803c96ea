package comebackledger.bus;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;

/**
 * Who answers at the connector and which codes are stored, under known faults.
 *
 * @param groups who hears whom: those of one number
 * @param dead no frame gets through
 */
record SimulatedTalk(List<String> modules, boolean[] silent, int[] groups, boolean dead, List<CodeSign> codes) {
    static final double SLIP = 0.005;
    static final double SAID = 0.5;
    static final double STRAY_ACTIVE = 0.1;
    static final double STRAY_STORED = 0.4;

    static SimulatedTalk of(SplittableRandom random, Circuit truth, List<Fault> faults, FaultKind cause) {
        List<Circuit.Node> nodes = truth.nodes().orElseThrow();
        int count = nodes.size();
        boolean[] silent = new boolean[count];
        int[] groups = new int[count];
        boolean dead = false;
        for (Fault fault : faults) {
            dead |= kills(random, fault);
            boolean cuts = fault.kind() == FaultKind.TRUNK_OPEN || fault.kind() == FaultKind.TRUNK_SERIES_RESISTANCE && above(random, fault, 250);
            for (int i = 0; i < count; i++) {
                double at = fault.atMetres().orElse(0);
                boolean beyond = nodes.get(i).atMetres().getAsDouble() > at;
                if (cuts) {
                    groups[i] += beyond ? 1 : 0;
                    silent[i] |= beyond != truth.connector().orElseThrow().atMetres().getAsDouble() > at;
                }
                boolean own = fault.part().equals(Optional.of(nodes.get(i).module()));
                boolean lost = own && (fault.kind() == FaultKind.MODULE_STUB || fault.kind() == FaultKind.MODULE_SUPPLY
                        || fault.kind() == FaultKind.MODULE_INTERNAL);
                silent[i] |= lost || own && fault.kind() == FaultKind.REPORTER_ITSELF && random.nextInt(10) == 0;
                groups[i] += lost || own && fault.kind() == FaultKind.REPORTER_ITSELF ? 100 + i : 0;
            }
            boolean pins = fault.kind() == FaultKind.CONNECTOR_FAULT && (fault.ohm().isEmpty() || above(random, fault, 250));
            for (int i = 0; pins && i < count; i++) {
                silent[i] = true;
            }
        }
        if (faults.stream().filter(fault -> fault.kind() == FaultKind.TERMINATOR_MISSING).count() == 2) {
            dead |= random.nextBoolean();
        }
        for (int i = 0; i < count; i++) {
            silent[i] |= dead || cause == FaultKind.SUPPLY_LOW && random.nextInt(10) < 3;
            silent[i] ^= random.nextDouble() < SLIP;
        }
        List<String> modules = nodes.stream().map(Circuit.Node::module).toList();
        return new SimulatedTalk(modules, silent, groups, dead, codes(random, modules, silent, groups, dead, faults, cause));
    }

    private static boolean above(SplittableRandom random, Fault fault, double middle) {
        return fault.ohm().orElse(1e9) > middle * Math.exp(0.3 * random.nextGaussian());
    }

    private static boolean kills(SplittableRandom random, Fault fault) {
        return switch (fault.kind()) {
            case TRUNK_SHORT_HIGH_LOW, MODULE_SHUNT -> !above(random, fault, 30);
            case SHORT_TO_GROUND -> !above(random, fault, 100) && random.nextInt(10) > 0;
            case SHORT_TO_SUPPLY -> !above(random, fault, 1000) && random.nextInt(10) > 0;
            case MODULE_INTERNAL -> random.nextInt(5) == 0;
            default -> false;
        };
    }

    private static List<CodeSign> codes(SplittableRandom random, List<String> modules, boolean[] silent, int[] groups, boolean dead,
            List<Fault> faults,
            FaultKind cause) {
        List<CodeSign> codes = new ArrayList<>();
        int count = modules.size();
        for (int by = 0; by < count; by++) {
            boolean reads = !silent[by] || dead;
            for (int who = 0; reads && !dead && who < count; who++) {
                if (groups[by] != groups[who] && random.nextDouble() < SAID) {
                    codes.add(sign(CodeSign.Says.LOST_COMMUNICATION, modules.get(who), modules.get(by), true));
                }
            }
            if (dead && random.nextDouble() < SAID) {
                codes.add(new CodeSign(CodeSign.Says.BUS_OFF, Optional.empty(), Optional.of(modules.get(by)), true));
            }
        }
        String someone = modules.get(random.nextInt(count));
        String other = modules.get(random.nextInt(count));
        if (random.nextDouble() < STRAY_ACTIVE) {
            codes.add(sign(CodeSign.Says.LOST_COMMUNICATION, someone, other, true));
        }
        if (random.nextDouble() < STRAY_STORED || cause == FaultKind.NONE_FOUND && random.nextBoolean()) {
            codes.add(sign(CodeSign.Says.LOST_COMMUNICATION, someone, other, false));
        }
        if (cause == FaultKind.SUPPLY_LOW) {
            codes.add(new CodeSign(CodeSign.Says.LOW_SUPPLY, Optional.empty(), Optional.empty(), true));
        }
        if (cause == FaultKind.SENDER_DATA) {
            codes.add(sign(CodeSign.Says.INVALID_DATA, faults.getFirst().part().orElseThrow(), other, true));
        }
        return List.copyOf(codes);
    }

    private static CodeSign sign(CodeSign.Says says, String accused, String reporter, boolean active) {
        return new CodeSign(says, Optional.of(accused), Optional.of(reporter), active);
    }

    RollCall rollCall() {
        List<String> answered = new ArrayList<>();
        List<String> quiet = new ArrayList<>();
        for (int i = 0; i < silent.length; i++) {
            (silent[i] ? quiet : answered).add(modules.get(i));
        }
        return new RollCall(answered, quiet);
    }

    /** The log-likelihood of another network's roll call, were this one the truth. */
    double logRoll(SimulatedTalk seen) {
        double log = 0;
        for (int i = 0; i < silent.length; i++) {
            log += Math.log(silent[i] == seen.silent[i] ? 1 - SLIP : SLIP);
        }
        return log;
    }

    /** The log-likelihood of another network's codes, were this one the truth. */
    double logCodes(SimulatedTalk seen, FaultKind cause, Optional<String> part) {
        int count = modules.size();
        double log = 0;
        int expected = 0;
        for (int by = 0; by < count; by++) {
            for (int who = 0; !dead && who < count && !silent[by]; who++) {
                expected += groups[by] != groups[who] ? 1 : 0;
            }
            expected += dead ? 1 : 0;
        }
        int explained = 0;
        boolean stored = false;
        int stray = 0;
        for (CodeSign code : seen.codes) {
            int by = code.reporter().map(modules::indexOf).orElse(-1);
            int who = code.accused().map(modules::indexOf).orElse(-1);
            switch (code.says()) {
                case LOW_SUPPLY -> log += cause == FaultKind.SUPPLY_LOW ? 0 : -50;
                case INVALID_DATA -> log += cause == FaultKind.SENDER_DATA && code.accused().equals(part) ? 0 : -50;
                case BUS_OFF -> {
                    explained += dead ? 1 : 0;
                    log += dead ? 0 : -50;
                }
                case LOST_COMMUNICATION -> {
                    boolean told = code.active() && !dead && by >= 0 && who >= 0 && !silent[by] && groups[by] != groups[who];
                    explained += told ? 1 : 0;
                    stray += code.active() && !told ? 1 : 0;
                    stored |= !code.active();
                }
            }
        }
        log += cause == FaultKind.SUPPLY_LOW && seen.codes.stream().noneMatch(code -> code.says() == CodeSign.Says.LOW_SUPPLY) ? -50 : 0;
        log += cause == FaultKind.SENDER_DATA && seen.codes.stream().noneMatch(code -> code.says() == CodeSign.Says.INVALID_DATA) ? -50 : 0;
        log += explained * Math.log(SAID) + Math.max(0, expected - explained) * Math.log(1 - SAID);
        log += stray == 0 ? Math.log(1 - STRAY_ACTIVE) : stray * Math.log(STRAY_ACTIVE / count / count);
        double history = cause == FaultKind.NONE_FOUND ? 1 - (1 - STRAY_STORED) / 2 : STRAY_STORED;
        return log + Math.log(stored ? history : 1 - history);
    }
}
