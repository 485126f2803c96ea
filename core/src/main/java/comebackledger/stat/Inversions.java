package comebackledger.stat;

/** Concordant and discordant pairs of a sequence, and their exact law when all orders are alike. */
final class Inversions {
    private Inversions() {}

    /** Pairs (earlier, later) whose later value is strictly smaller; n log n by merging. The array is left sorted. */
    static long sortAndCount(double[] values) {
        return sort(values, new double[values.length], 0, values.length);
    }

    private static long sort(double[] values, double[] spare, int from, int to) {
        if (to - from < 2) {
            return 0;
        }
        int middle = (from + to) >>> 1;
        long count = sort(values, spare, from, middle) + sort(values, spare, middle, to);
        if (values[middle - 1] <= values[middle]) {
            return count;
        }
        int left = from;
        int right = middle;
        for (int k = from; k < to; k++) {
            if (left < middle && (right >= to || values[left] <= values[right])) {
                spare[k] = values[left++];
            } else {
                spare[k] = values[right++];
                count += middle - left;
            }
        }
        System.arraycopy(spare, from, values, from, to - from);
        return count;
    }

    /** P(count <= k) of the number of inversions in a random order of n distinct values (Mahonian law). */
    static double cumulative(int n, long k) {
        int most = n * (n - 1) / 2;
        if (k < 0) {
            return 0;
        }
        if (k >= most) {
            return 1;
        }
        double[] share = new double[most + 1];
        share[0] = 1;
        int reach = 0;
        for (int i = 2; i <= n; i++) {
            double[] next = new double[most + 1];
            reach += i - 1;
            double window = 0;
            for (int j = 0; j <= reach; j++) {
                window += share[j] - (j >= i ? share[j - i] : 0);
                next[j] = Math.max(0, window) / i;
            }
            share = next;
        }
        double sum = 0;
        for (int j = 0; j <= k; j++) {
            sum += share[j];
        }
        return Math.min(1, sum);
    }

    /** Two-sided exact p-value, twice the smaller tail. */
    static double twoSided(int n, long count) {
        long most = (long) n * (n - 1) / 2;
        // Both tails are summed from their own end, which keeps the digits of the small one.
        return Math.min(1, 2 * Math.min(cumulative(n, count), cumulative(n, most - count)));
    }
}
