package comebackledger.stat;

import java.util.Arrays;
import java.util.Map;
import java.util.NavigableMap;
import java.util.OptionalDouble;
import java.util.TreeMap;

/**
 * The slopes of all pairs of readings at different times, by rank. Few are sorted; of many, the slope of a rank is found by halving: the number of slopes
 * at most m is the number of inversions of y - m x (Matousek 1991), n log n for each halving.
 */
final class PairSlopes {
    private static final int SORTED_AT_MOST = 1500;
    /** A slope beyond it is not searched for. */
    private static final double LARGEST = 1e250;

    private final double[] x;
    private final double[] y;
    private final long count;
    private final double[] sorted;
    /** Slopes, and how many are at most that; at -0.0 how many are below 0. */
    private final NavigableMap<Double, Long> tried = new TreeMap<>();

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

    /** The bracket begins at the tightest that earlier searches have left, so that ranks beside each other cost one search. */
    private double halved(long rank) {
        if (tried.isEmpty()) {
            double[] values = y.clone();
            long falling = Inversions.sortAndCount(values);
            tried.put(-0.0, falling); // slopes below 0
            tried.put(0.0, atMost(0));
        }
        double low = lower(rank);
        double high = upper(rank);
        if (low == 0 && high == 0) {
            return 0;
        }
        while (high - low > 1e-13 * Math.max(Math.abs(low), Math.abs(high)) && high - low > Double.MIN_NORMAL) {
            double middle = low + (high - low) / 2;
            if (middle <= low || middle >= high) {
                break;
            }
            long count = atMost(middle);
            tried.put(middle, count);
            if (count >= rank) {
                high = middle;
            } else {
                low = middle;
            }
        }
        return high;
    }

    /** The largest slope tried that too few slopes are at most; below all tried, going down until there is one. */
    private double lower(long rank) {
        for (Map.Entry<Double, Long> entry : tried.descendingMap().entrySet()) {
            if (entry.getValue() < rank) {
                return entry.getKey();
            }
        }
        for (double low = Math.min(-scale(), 4 * tried.firstKey()); low > -LARGEST; low *= 4) {
            long count = atMost(low);
            tried.put(low, count);
            if (count < rank) {
                return low;
            }
        }
        return -LARGEST;
    }

    private double upper(long rank) {
        for (Map.Entry<Double, Long> entry : tried.entrySet()) {
            if (entry.getValue() >= rank) {
                return entry.getKey();
            }
        }
        for (double high = Math.max(scale(), 4 * tried.lastKey()); high < LARGEST; high *= 4) {
            long count = atMost(high);
            tried.put(high, count);
            if (count >= rank) {
                return high;
            }
        }
        return LARGEST;
    }

    /** What a slope over all readings could be: the search begins there. */
    private double scale() {
        double values = Arrays.stream(y).max().orElseThrow() - Arrays.stream(y).min().orElseThrow();
        return Math.max(values / (x[x.length - 1] - x[0]), Double.MIN_NORMAL);
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
