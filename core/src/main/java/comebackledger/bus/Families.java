package comebackledger.bus;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Every suspicion that this build allows, with its odds beforehand: within a kind places alike by length of wire or by module, resistances
 * alike over their decades.
 */
final class Families {
    /** Dead or through a resistance; beyond 10 kohm no bus and no meter between the lines notices (common practice, no source). */
    private static final Family.Decades SHORT = new Family.Decades(0.1, 1e4);
    private static final Family.Decades JOINT = new Family.Decades(1, 1e4);
    /** Loads heavier than an input: a damaged transceiver or a resistor fitted by mistake (common practice, no source). */
    private static final Family.Decades LOAD = new Family.Decades(10, 1e4);
    /** A resistor that fails drifts up far more often than down (common practice, no source). */
    private static final double DRIFT_UP = 0.85;
    private static final double DRIFT_MOST = 10;
    private static final double DRIFT_LEAST = 0.5;
    /** Half of bad connectors are open, half are resistive (common practice, no source). */
    private static final double CONNECTOR_OPEN = 0.5;

    private final Layout layout;
    private final CheckPolicy policy;
    private final Evidence evidence;
    private final List<Layout.Gap> gaps;
    private final List<Family> found = new ArrayList<>();

    private Families(Layout layout, CheckPolicy policy, Evidence evidence) {
        this.layout = layout;
        this.policy = policy;
        this.evidence = evidence;
        this.gaps = layout.gaps();
    }

    static List<Family> of(Layout layout, CheckPolicy policy, Evidence evidence, boolean supplyPointed) {
        Families families = new Families(layout, policy, evidence);
        families.singles(supplyPointed);
        families.pairs();
        return families.weighed();
    }

    private void singles(boolean supplyPointed) {
        boolean sign = evidence.codes().map(codes -> !codes.isEmpty()).orElse(false);
        add(sign ? FaultKind.INTERMITTENT_NONE_PRESENT : FaultKind.NONE_FOUND, odds(FaultKind.NONE_FOUND));
        if (supplyPointed) {
            add(FaultKind.SUPPLY_LOW, odds(FaultKind.SUPPLY_LOW));
        }
        terminators();
        trunk();
        connector();
        modules();
    }

    private double odds(FaultKind kind) {
        return policy.odds().of(kind);
    }

    private void add(FaultKind kind, double odds) {
        add(kind, Tap.NONE, Optional.empty(), odds, Optional.empty());
    }

    private void add(FaultKind kind, int part, Optional<Line> line, double odds, Optional<Family.Decades> range) {
        found.add(new Family(kind, part, line, Tap.NONE, -1, odds, range, Optional.empty()));
    }

    private void terminators() {
        int count = layout.terminators.size();
        for (int i = 0; i < count; i++) {
            double ohm = layout.terminators.get(i).ohm();
            double drifted = odds(FaultKind.TERMINATOR_DRIFTED) / count;
            add(FaultKind.TERMINATOR_MISSING, i, Optional.empty(), odds(FaultKind.TERMINATOR_MISSING) / count, Optional.empty());
            add(FaultKind.TERMINATOR_DRIFTED, i, Optional.empty(), drifted * DRIFT_UP,
                    Optional.of(new Family.Decades(ohm * (1 + policy.terminatorTolerance()), ohm * DRIFT_MOST)));
            add(FaultKind.TERMINATOR_DRIFTED, i, Optional.empty(), drifted * (1 - DRIFT_UP),
                    Optional.of(new Family.Decades(ohm * DRIFT_LEAST, ohm * (1 - policy.terminatorTolerance()))));
            if (layout.terminators.get(i).split()) {
                rails(i);
            }
        }
    }

    /** The centre of a split terminator is one more conductor that can touch a rail; it takes a quarter of its kind over all of them. */
    private static final double CENTRE_SHARE = 0.25;

    private long splits() {
        return layout.terminators.stream().filter(Circuit.Terminator::split).count();
    }

    private void rails(int terminator) {
        for (FaultKind kind : List.of(FaultKind.SHORT_TO_GROUND, FaultKind.SHORT_TO_SUPPLY)) {
            found.add(new Family(kind, terminator, Optional.of(Line.CENTRE), Tap.NONE, layout.terminatorMetres[terminator],
                    odds(kind) * CENTRE_SHARE / splits(), Optional.of(SHORT), Optional.empty()));
        }
    }

    private void trunk() {
        double lines = splits() > 0 ? 1 - CENTRE_SHARE : 1;
        for (Stretch stretch : stretches()) {
            wire(FaultKind.TRUNK_SHORT_HIGH_LOW, stretch, Optional.empty(), 1, Optional.of(SHORT));
            wire(FaultKind.EXTRA_TERMINATOR, stretch, Optional.empty(), 1, Optional.empty());
            for (Line line : List.of(Line.HIGH, Line.LOW)) {
                wire(FaultKind.SHORT_TO_GROUND, stretch, Optional.of(line), lines * 0.5, Optional.of(SHORT));
                wire(FaultKind.SHORT_TO_SUPPLY, stretch, Optional.of(line), lines * 0.5, Optional.of(SHORT));
                wire(FaultKind.TRUNK_OPEN, stretch, Optional.of(line), 1 / 3.0, Optional.empty());
                wire(FaultKind.TRUNK_SERIES_RESISTANCE, stretch, Optional.of(line), 1 / 3.0, Optional.of(JOINT));
            }
            wire(FaultKind.TRUNK_OPEN, stretch, Optional.of(Line.BOTH), 1 / 3.0, Optional.empty());
            wire(FaultKind.TRUNK_SERIES_RESISTANCE, stretch, Optional.of(Line.BOTH), 1 / 3.0, Optional.of(JOINT));
        }
    }

    /** A part of a gap on one side of the connector. */
    private record Stretch(int gap, double metres, double share) {}

    private List<Stretch> stretches() {
        double length = Math.max(gaps.stream().mapToDouble(Layout.Gap::metres).sum(), 1e-9);
        List<Stretch> stretches = new ArrayList<>();
        for (int i = 0; i < gaps.size(); i++) {
            Layout.Gap gap = gaps.get(i);
            double split = layout.connectorMetres;
            if (split > gap.fromMetres() && split < gap.toMetres()) {
                stretches.add(new Stretch(i, (gap.fromMetres() + split) / 2, (split - gap.fromMetres()) / length));
                stretches.add(new Stretch(i, (split + gap.toMetres()) / 2, (gap.toMetres() - split) / length));
            } else if (gap.metres() > 0) {
                stretches.add(new Stretch(i, gap.middle(), gap.metres() / length));
            }
        }
        return stretches;
    }

    private void wire(FaultKind kind, Stretch stretch, Optional<Line> line, double share, Optional<Family.Decades> range) {
        found.add(new Family(kind, Tap.NONE, line, stretch.gap, stretch.metres, odds(kind) * share * stretch.share, range, Optional.empty()));
    }

    private void connector() {
        for (Line line : List.of(Line.HIGH, Line.LOW, Line.BOTH)) {
            double odds = odds(FaultKind.CONNECTOR_FAULT) / 3;
            add(FaultKind.CONNECTOR_FAULT, Tap.NONE, Optional.of(line), odds * CONNECTOR_OPEN, Optional.empty());
            add(FaultKind.CONNECTOR_FAULT, Tap.NONE, Optional.of(line), odds * (1 - CONNECTOR_OPEN), Optional.of(JOINT));
        }
    }

    private void modules() {
        int count = layout.nodes.size();
        for (int i = 0; i < count; i++) {
            for (FaultKind kind : List.of(FaultKind.MODULE_STUB, FaultKind.MODULE_SUPPLY, FaultKind.MODULE_INTERNAL, FaultKind.REPORTER_ITSELF)) {
                add(kind, i, Optional.empty(), odds(kind) / count, Optional.empty());
            }
            add(FaultKind.MODULE_SHUNT, i, Optional.empty(), odds(FaultKind.MODULE_SHUNT) / count, Optional.of(LOAD));
            if (accusedOfBadData(layout.nodes.get(i).module())) {
                add(FaultKind.SENDER_DATA, i, Optional.empty(), odds(FaultKind.SENDER_DATA), Optional.empty());
            }
        }
    }

    private boolean accusedOfBadData(String module) {
        return evidence.codes().orElse(List.of()).stream()
                .anyMatch(code -> code.says() == CodeSign.Says.INVALID_DATA && code.accused().equals(Optional.of(module)));
    }

    /** Two faults that meet in practice: a lost terminator, or a break, beside one more fault (common practice, no source). */
    private void pairs() {
        if (layout.terminators.size() < 2) {
            return;
        }
        List<Family> singles = List.copyOf(found);
        // Where along the trunk the second fault sits hardly shows: three stretches stand for all.
        Set<Integer> pairStretches = new HashSet<>(List.of(0, gaps.size() / 2, gaps.size() - 1));
        List<Family> pairs = new ArrayList<>();
        Family first = missing(0);
        Family last = missing(layout.terminators.size() - 1);
        pairs.add(both(last, first, 2));
        for (Family lost : List.of(first, last)) {
            for (Family single : singles) {
                boolean plausible = single.kind() == FaultKind.EXTRA_TERMINATOR || single.kind() == FaultKind.TRUNK_SHORT_HIGH_LOW
                        || single.kind() == FaultKind.SHORT_TO_GROUND && single.part() == Tap.NONE;
                if (plausible && pairStretches.contains(single.gap())) {
                    pairs.add(both(single, lost, single.odds() / (odds(single.kind()) + 1e-12)));
                }
            }
        }
        double sum = pairs.stream().mapToDouble(Family::odds).sum();
        pairs.forEach(pair -> found.add(pair.withOdds(policy.odds().pairs() * pair.odds() / sum)));
    }

    private static Family missing(int terminator) {
        return new Family(FaultKind.TERMINATOR_MISSING, terminator, Optional.empty(), Tap.NONE, -1, 0, Optional.empty(), Optional.empty());
    }

    private static Family both(Family first, Family second, double odds) {
        return new Family(first.kind(), first.part(), first.line(), first.gap(), first.metres(), odds, first.range(), Optional.of(second));
    }

    /** A part repaired with proof is less likely the cause again; one repaired without is not. */
    private List<Family> weighed() {
        return found.stream().map(family -> family.withOdds(family.odds() * history(family))).filter(family -> family.odds() > 0).toList();
    }

    private double history(Family family) {
        double factor = 1;
        Optional<String> part = Places.part(layout, family);
        for (Evidence.PastRepair repair : evidence.history()) {
            factor *= repair.proven() && part.equals(Optional.of(repair.part())) ? policy.provenRepair() : 1;
        }
        return factor;
    }
}
