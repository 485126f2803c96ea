package comebackledger.stat;

import java.util.Arrays;
import java.util.OptionalDouble;

/**
 * The slopes of all pairs of readings at different times, by rank. Few are sorted; of many, the slope of a rank is found by halving: the number of slopes
 * at most m is the number of inversions of y - m x (Matousek 1991), n log n for each halving.
 */
final class PairSlopes {
    private static final int SORTED_AT_MOST = 1500;

    private final double[] x;
    private final double[] y;
    private final long count;
    private final double[] sorted;

    /** @param x ascending; within one x, y ascending */
    PairSlopes(double[] x, double[] y) {
        this.x = x;
        this.y = y;
        long pairs = (long) x.length * (x.length - 1) / 2;
        this.count = pairs - Ties.ofSorted(x).pairs();
        this.sorted = x.length <= SORTED_AT_MOST ? all() : new double[0];
    }

    long count() {
        return count;
    }

    private double[] all() {
        double[] slopes = new double[Math.toIntExact(count)];
        int k = 0;
        for (int i = 0; i < x.length; i++) {
            for (int j = i + 1; j < x.length; j++) {
                if (x[j] > x[i]) {
                    slopes[k++] = (y[j] - y[i]) / (x[j] - x[i]) + 0.0;
                }
            }
        }
        Arrays.sort(slopes);
        return slopes;
    }

    double median() {
        return count % 2 == 1 ? ranked((count + 1) / 2) : (ranked(count / 2) + ranked(count / 2 + 1)) / 2;
    }

    /** Between ranks by line; empty outside 1 to the count. */
    OptionalDouble ofRank(double rank) {
        if (!(rank >= 1 && rank <= count)) {
            return OptionalDouble.empty();
        }
        long below = (long) Math.floor(rank);
        double part = rank - below;
        double low = ranked(below);
        return OptionalDouble.of(part == 0 ? low : low + part * (ranked(below + 1) - low));
    }

    private double ranked(long rank) {
        return sorted.length > 0 ? sorted[(int) rank - 1] : halved(rank);
    }

    private double halved(long rank) {
        double reach = 1;
        while (atMost(reach) < rank) {
            reach *= 4;
        }
        double low = -1;
        while (atMost(low) >= rank) {
            low *= 4;
        }
        double high = reach;
        for (int i = 0; i < 200; i++) {
            double middle = low + (high - low) / 2;
            if (middle <= low || middle >= high || high - low <= 1e-13 * Math.max(Math.abs(low), Math.abs(high)) || high - low < 1e-300) {
                break;
            }
            if (atMost(middle) >= rank) {
                high = middle;
            } else {
                low = middle;
            }
        }
        return high;
    }

    /** How many slopes are at most m: pairs whose y - m x does not rise. */
    private long atMost(double m) {
        double[] tilted = new double[x.length];
        // Within one x the order is turned round, so that its pairs rise and are not counted.
        Arrays.setAll(tilted, i -> -(y[i] - m * x[i]));
        int from = 0;
        for (int i = 1; i <= x.length; i++) {
            if (i == x.length || x[i] != x[from]) {
                reverse(tilted, from, i);
                from = i;
            }
        }
        return count - Inversions.sortAndCount(tilted);
    }

    private static void reverse(double[] values, int from, int to) {
        for (int i = from, j = to - 1; i < j; i++, j--) {
            double kept = values[i];
            values[i] = values[j];
            values[j] = kept;
        }
    }
}
