package comebackledger.bus;

import java.util.ArrayList;
import java.util.Arrays;
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
    private static final Family.Decades SHORT = new Family.Decades(0.01, 1e4);
    private static final Family.Decades JOINT = new Family.Decades(1, 1e4);
    /** Loads heavier than an input: a damaged transceiver or a resistor fitted by mistake (common practice, no source). */
    private static final Family.Decades LOAD = new Family.Decades(10, 1e4);
    /** A resistor that fails drifts up far more often than down (common practice, no source). */
    private static final double DRIFT_UP = 0.85;
    private static final double DRIFT_MOST = 10;
    private static final double DRIFT_LEAST = 0.5;
    /** Half of bad connectors are open, half are resistive (common practice, no source). */
    private static final double CONNECTOR_OPEN = 0.5;

    private static final double BESIDE_METRES = 0.001;
    private static final int MOST_PLACES = 9;

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
        List<Stretch> stretches = stretches();
        for (Stretch stretch : thinned(stretches)) {
            wire(FaultKind.TRUNK_SHORT_HIGH_LOW, stretch, Optional.empty(), 1, Optional.of(SHORT));
            wire(FaultKind.EXTRA_TERMINATOR, stretch, Optional.empty(), 1, Optional.empty());
            for (Line line : List.of(Line.HIGH, Line.LOW)) {
                wire(FaultKind.SHORT_TO_GROUND, stretch, Optional.of(line), lines * 0.5, Optional.of(SHORT));
                wire(FaultKind.SHORT_TO_SUPPLY, stretch, Optional.of(line), lines * 0.5, Optional.of(SHORT));
            }
        }
        for (Stretch stretch : stretches) {
            for (Line line : List.of(Line.HIGH, Line.LOW, Line.BOTH)) {
                wire(FaultKind.TRUNK_OPEN, stretch, Optional.of(line), 1 / 3.0, Optional.empty());
                wire(FaultKind.TRUNK_SERIES_RESISTANCE, stretch, Optional.of(line), 1 / 3.0, Optional.of(JOINT));
            }
        }
    }

    /**
     * What lies across the lines cuts nobody off, and a meter tells its place by tenths of an ohm of wire: on a trunk of many modules
     * neighbouring stretches on one side of the connector stand for each other.
     */
    private List<Stretch> thinned(List<Stretch> stretches) {
        List<Stretch> thin = new ArrayList<>();
        double least = 1.0 / MOST_PLACES;
        Stretch open = new Stretch(Tap.NONE, 0, 0);
        for (Stretch next : stretches) {
            boolean sameSide = open.metres < layout.connectorMetres == next.metres < layout.connectorMetres;
            if (open.share > 0 && (open.share + next.share > least || !sameSide)) {
                thin.add(open);
                open = next;
            } else {
                open = open.with(next);
            }
        }
        if (open.share > 0) {
            thin.add(open);
        }
        return thin;
    }

    /** A part of a gap on one side of the connector. */
    private record Stretch(int gap, double metres, double share) {
        Stretch with(Stretch next) {
            double sum = share + next.share;
            return new Stretch(next.share > share ? next.gap : gap, (metres * share + next.metres * next.share) / sum, sum);
        }
    }

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

    /**
     * Two faults that meet in practice: both terminators lost, one lost beside one more fault, a break whose loose end touches ground. Each
     * kind of pair weighs alike, the first twice (common practice, no source).
     */
    private void pairs() {
        if (layout.terminators.size() < 2) {
            return;
        }
        List<Family> singles = List.copyOf(found);
        Family first = missing(0);
        Family last = missing(layout.terminators.size() - 1);
        List<Family> pairs = new ArrayList<>(List.of(both(last, first, 2)));
        for (FaultKind kind : List.of(FaultKind.EXTRA_TERMINATOR, FaultKind.TRUNK_SHORT_HIGH_LOW, FaultKind.SHORT_TO_GROUND,
                FaultKind.TRUNK_SERIES_RESISTANCE, FaultKind.CONNECTOR_FAULT, FaultKind.MODULE_SHUNT)) {
            pairs.addAll(beside(few(singles, kind), List.of(first, last)));
        }
        pairs.addAll(looseEnds(few(singles, FaultKind.TRUNK_OPEN)));
        double sum = pairs.stream().mapToDouble(Family::odds).sum();
        pairs.forEach(pair -> found.add(pair.withOdds(policy.odds().pairs() * pair.odds() / sum)));
    }

    /** Where along the trunk the second fault sits hardly shows: its ends and its middle stand for all. */
    private List<Family> few(List<Family> singles, FaultKind kind) {
        int count = layout.nodes.size();
        List<Family> all = singles.stream().filter(single -> single.kind() == kind && single.line().filter(line -> line == Line.CENTRE).isEmpty())
                .toList();
        int[] told = all.stream().mapToInt(Family::gap).filter(gap -> gap != Tap.NONE).distinct().sorted().toArray();
        Set<Integer> stretches = told.length == 0
                ? Set.of()
                : new HashSet<>(Arrays.asList(told[0], told[(told.length - 1) / 2], told[told.length / 2], told[told.length - 1]));
        Set<Integer> modules = new HashSet<>(Arrays.asList(0, (count - 1) / 2, count / 2, count - 1));
        return all.stream().filter(single -> single.gap() == Tap.NONE || stretches.contains(single.gap()))
                .filter(single -> single.part() == Tap.NONE || modules.contains(single.part())).toList();
    }

    /** Either end of a break, its high or its low line on ground; all together weigh 1. */
    private List<Family> looseEnds(List<Family> breaks) {
        double sum = breaks.stream().mapToDouble(Family::odds).sum();
        List<Family> pairs = new ArrayList<>();
        for (Family cut : breaks) {
            for (double end : new double[]{Math.max(0, cut.metres() - BESIDE_METRES), Math.min(layout.metres, cut.metres() + BESIDE_METRES)}) {
                for (Line line : List.of(Line.HIGH, Line.LOW)) {
                    pairs.add(new Family(FaultKind.SHORT_TO_GROUND, Tap.NONE, Optional.of(line), cut.gap(), end, sum > 0 ? cut.odds() / sum / 4 : 0,
                            Optional.of(SHORT), Optional.of(cut)));
                }
            }
        }
        return pairs;
    }

    /** All of them together weigh 1. */
    private static List<Family> beside(List<Family> ones, List<Family> others) {
        double sum = ones.stream().mapToDouble(Family::odds).sum() * others.stream().mapToDouble(Family::odds).sum();
        List<Family> pairs = new ArrayList<>();
        for (Family one : ones) {
            for (Family other : others) {
                pairs.add(both(one, other, sum > 0 ? one.odds() * other.odds() / sum : 0));
            }
        }
        return pairs;
    }

    private static Family missing(int terminator) {
        return new Family(FaultKind.TERMINATOR_MISSING, terminator, Optional.empty(), Tap.NONE, -1, 1, Optional.empty(), Optional.empty());
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
