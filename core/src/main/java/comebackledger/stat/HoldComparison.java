package comebackledger.stat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.factory.DecompositionFactory_DDRM;
import org.ejml.interfaces.decomposition.SingularValueDecomposition_F64;

/**
 * Whether kinds of repairs hold alike: the log-rank test (Mantel 1966) with the hypergeometric variance.
 * <pre>
 *   E_g = sum over return times of d Y_g/Y        V_gh = sum d (Y-d)/(Y-1) (Y_g/Y)(1[g=h] - Y_h/Y)
 *   chi-square = (O-E)' V^- (O-E), V^- the generalized inverse; degrees of freedom the rank of V, k-1 where all groups compare
 * </pre>
 *
 * @param chiSquare empty where nothing can be compared: fewer than two groups with anything at risk when something returned
 */
public record HoldComparison(OptionalDouble chiSquare, int degreesOfFreedom, OptionalDouble pValue, double[] observed, double[] expected) {
    /** Singular values below this share of the largest are roundings of 0. */
    private static final double ROUNDING = 1e-10;

    private record Entry(double held, boolean returned, int group) {}

    @SuppressWarnings("ArrayRecordComponent") // plain numbers, by group
    public HoldComparison {
    }

    public static HoldComparison of(List<List<HoldCurve.Repair>> groups) {
        List<Entry> entries = new ArrayList<>();
        for (int g = 0; g < groups.size(); g++) {
            for (HoldCurve.Repair repair : groups.get(g)) {
                entries.add(new Entry(repair.held(), repair.returned(), g));
            }
        }
        entries.sort(Comparator.comparingDouble(Entry::held));
        return new Sums(entries, groups).comparison();
    }

    private static final class Sums {
        private final List<Entry> entries;
        private final int k;
        private final double[] atRisk;
        private final double[] observed;
        private final double[] expected;
        private final double[][] variance;

        Sums(List<Entry> entries, List<List<HoldCurve.Repair>> groups) {
            this.entries = entries;
            this.k = groups.size();
            this.atRisk = groups.stream().mapToDouble(List::size).toArray();
            this.observed = new double[k];
            this.expected = new double[k];
            this.variance = new double[k][k];
        }

        HoldComparison comparison() {
            int from = 0;
            while (from < entries.size()) {
                int to = from;
                double returned = 0;
                double held = entries.get(from).held();
                while (to < entries.size() && entries.get(to).held() == held) {
                    Entry entry = entries.get(to++);
                    returned += entry.returned() ? 1 : 0;
                    observed[entry.group()] += entry.returned() ? 1 : 0;
                }
                add(returned, entries.size() - from);
                for (int i = from; i < to; i++) {
                    atRisk[entries.get(i).group()]--;
                }
                from = to;
            }
            return tested();
        }

        private void add(double returned, double total) {
            if (returned == 0) {
                return;
            }
            double scale = total > 1 ? returned * (total - returned) / (total - 1) : 0;
            for (int g = 0; g < k; g++) {
                double share = atRisk[g] / total;
                expected[g] += returned * share;
                for (int h = 0; h < k; h++) {
                    variance[g][h] += scale * share * ((g == h ? 1 : 0) - atRisk[h] / total);
                }
            }
        }

        /**
         * The same figure as with the last group left out. A group never at risk while something returned compares with nothing, and takes no degree of freedom:
         * they are the rank of the variance.
         */
        private HoldComparison tested() {
            SingularValueDecomposition_F64<DMatrixRMaj> parts = DecompositionFactory_DDRM.svd(k, k, true, false, false);
            if (k == 0 || !parts.decompose(new DMatrixRMaj(variance))) {
                return new HoldComparison(OptionalDouble.empty(), 0, OptionalDouble.empty(), observed, expected);
            }
            DMatrixRMaj axes = parts.getU(null, true);
            double[] widths = parts.getSingularValues();
            double widest = Arrays.stream(widths, 0, k).max().orElse(0);
            int rank = 0;
            double statistic = 0;
            for (int axis = 0; axis < k; axis++) {
                if (widths[axis] > ROUNDING * widest) {
                    double along = 0;
                    for (int g = 0; g < k; g++) {
                        along += axes.get(axis, g) * (observed[g] - expected[g]);
                    }
                    statistic += along * along / widths[axis];
                    rank++;
                }
            }
            if (rank == 0) {
                return new HoldComparison(OptionalDouble.empty(), 0, OptionalDouble.empty(), observed, expected);
            }
            return new HoldComparison(OptionalDouble.of(statistic), rank,
                    OptionalDouble.of(ChiSquaredDistribution.of(rank).survivalProbability(statistic)), observed, expected);
        }
    }
}
