package comebackledger.stat;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.CommonOps_DDRM;

/**
 * Whether kinds of repairs hold alike: the log-rank test (Mantel 1966) with the hypergeometric variance.
 * <pre>
 *   E_g = sum over return times of d Y_g/Y        V_gh = sum d (Y-d)/(Y-1) (Y_g/Y)(1[g=h] - Y_h/Y)
 *   chi-square = (O-E)' V^- (O-E) over all groups but the last, k-1 degrees of freedom
 * </pre>
 *
 * @param chiSquare empty where nothing can be compared: fewer than two groups with anything at risk when something returned
 */
public record HoldComparison(OptionalDouble chiSquare, int degreesOfFreedom, OptionalDouble pValue, double[] observed, double[] expected) {
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

        /** Groups that never were at risk when something returned tell nothing; of the others the last is left out. */
        private HoldComparison tested() {
            List<Integer> telling = new ArrayList<>();
            for (int g = 0; g < k; g++) {
                if (variance[g][g] > 0) {
                    telling.add(g);
                }
            }
            int degrees = telling.size() - 1;
            if (degrees < 1) {
                return new HoldComparison(OptionalDouble.empty(), 0, OptionalDouble.empty(), observed, expected);
            }
            DMatrixRMaj v = new DMatrixRMaj(degrees, degrees);
            DMatrixRMaj apart = new DMatrixRMaj(degrees, 1);
            for (int i = 0; i < degrees; i++) {
                apart.set(i, 0, observed[telling.get(i)] - expected[telling.get(i)]);
                for (int j = 0; j < degrees; j++) {
                    v.set(i, j, variance[telling.get(i)][telling.get(j)]);
                }
            }
            DMatrixRMaj solved = new DMatrixRMaj(degrees, 1);
            if (!CommonOps_DDRM.solve(v, apart, solved)) {
                return new HoldComparison(OptionalDouble.empty(), degrees, OptionalDouble.empty(), observed, expected);
            }
            double statistic = Math.max(0, CommonOps_DDRM.dot(apart, solved));
            return new HoldComparison(OptionalDouble.of(statistic), degrees,
                    OptionalDouble.of(ChiSquaredDistribution.of(degrees).survivalProbability(statistic)),
                    observed, expected);
        }
    }
}
