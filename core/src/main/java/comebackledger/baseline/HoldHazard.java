package comebackledger.baseline;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * How readily a repaired place returns because of its repair, by the repair's age: a hazard that is constant between edges and nothing beyond the last, times
 * a factor of the unit.
 * <pre>
 *   hazard(age) = factor of the unit x hazard of (kind of repair, stretch of age)
 * </pre>
 * Maximum likelihood of the piecewise exponential law, repairs still holding as censored (Friedman 1982, doi 10.1214/aos/1176345693). Each cell leans on
 * the cell of all repairs together by two events, so that few repairs of one kind do not decide alone (common practice, no source).
 *
 * @param edges where the hazard may step
 * @param pooled of all repairs, one hazard a stretch
 * @param strata likewise by kind of repair
 */
public record HoldHazard(List<Double> edges, List<Double> pooled, SortedMap<String, List<Double>> strata) {
    private static final double LEAN_EVENTS = 2;

    public HoldHazard {
        edges = List.copyOf(edges);
        pooled = List.copyOf(pooled);
        strata = Collections.unmodifiableSortedMap(new TreeMap<>(strata));
    }

    /** Expected returns of a repair from new to an age, for a unit of factor 1. */
    public double expected(String stratum, double age) {
        List<Double> hazards = hazards(stratum);
        double sum = 0;
        double from = 0;
        for (int stretch = 0; stretch < hazards.size() && from < age; stretch++) {
            double to = Math.min(age, edges.get(stretch));
            sum += hazards.get(stretch) * (to - from);
            from = to;
        }
        return sum;
    }

    /** The hazard at an age, for a unit of factor 1. */
    double at(String stratum, double age) {
        int stretch = stretch(age, edges);
        return stretch < edges.size() ? hazards(stratum).get(stretch) : 0;
    }

    private List<Double> hazards(String stratum) {
        return strata.getOrDefault(stratum, pooled);
    }

    private static int stretch(double age, List<Double> edges) {
        int stretch = 0;
        while (stretch < edges.size() && age > edges.get(stretch)) {
            stretch++;
        }
        return stretch;
    }

    /** Collects returns and time at risk, then fits. */
    static final class Fit {
        private final List<Double> edges;
        private final Cells all;
        private final SortedMap<String, Cells> byStratum = new TreeMap<>();

        Fit(Wear measure) {
            this.edges = measure.edges();
            this.all = new Cells(edges.size());
        }

        /** @param factor of the unit; @param share how much of its return, if it returned, is due to the repair */
        void add(Spell spell, double factor, double share) {
            all.add(spell, factor, share, edges);
            byStratum.computeIfAbsent(spell.stratum(), _ -> new Cells(edges.size())).add(spell, factor, share, edges);
        }

        HoldHazard fitted(Wear measure) {
            double overall = (1 + Arrays.stream(all.returns).sum()) / (1 / measure.weakReturn() + Arrays.stream(all.atRisk).sum());
            List<Double> pooled = all.leaning(Collections.nCopies(edges.size(), overall), 1);
            SortedMap<String, List<Double>> strata = new TreeMap<>();
            byStratum.forEach((stratum, cells) -> strata.put(stratum, cells.leaning(pooled, cells.factor(pooled))));
            return new HoldHazard(edges, pooled, strata);
        }
    }

    /** Returns and time at risk by stretch of age. */
    private static final class Cells {
        private final double[] returns;
        private final double[] atRisk;

        Cells(int stretches) {
            returns = new double[stretches];
            atRisk = new double[stretches];
        }

        void add(Spell spell, double factor, double share, List<Double> edges) {
            double from = 0;
            for (int stretch = 0; stretch < edges.size() && from < spell.length(); stretch++) {
                double to = Math.min(spell.length(), edges.get(stretch));
                atRisk[stretch] += factor * (to - from);
                from = to;
            }
            int last = stretch(spell.length(), edges);
            if (spell.returned() && last < edges.size()) {
                returns[last] += share;
            }
        }

        /** How much readier this kind of repair returns than all together. */
        double factor(List<Double> pooled) {
            double expected = 0;
            double seen = 0;
            for (int stretch = 0; stretch < pooled.size(); stretch++) {
                expected += pooled.get(stretch) * atRisk[stretch];
                seen += returns[stretch];
            }
            return (LEAN_EVENTS + seen) / (LEAN_EVENTS + expected);
        }

        List<Double> leaning(List<Double> toward, double factor) {
            List<Double> hazards = new ArrayList<>();
            for (int stretch = 0; stretch < toward.size(); stretch++) {
                hazards.add((LEAN_EVENTS + returns[stretch]) / (LEAN_EVENTS / (toward.get(stretch) * factor) + atRisk[stretch]));
            }
            return List.copyOf(hazards);
        }
    }
}
