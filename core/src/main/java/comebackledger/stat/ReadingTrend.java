package comebackledger.stat;

import comebackledger.Require;
import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Whether readings rise or fall, and how fast, without trusting any one of them.
 * <pre>
 *   S = sum of signs over pairs in order of at           tau-b = S / sqrt((N - pairs tied in at)(N - pairs tied in value))
 *   p exact where nothing is tied and n is at most 50, else normal with continuity and the variance corrected for ties in both
 *   slope = median of the slopes of all pairs at different times (Theil 1950, Sen 1968); intercept = median of value - slope at
 *   slope limits: the slopes of rank (N' -+ z sqrt(var S))/2, the upper plus 1, between ranks by line (Gilbert 1987); empty outside 1..N'
 * </pre>
 *
 * @param tau empty where all values, or all times, are tied
 * @param undefined why nothing is told; empty where something is
 */
public record ReadingTrend(long kendallS, OptionalDouble tau, double pValue, double slope, OptionalDouble slopeLow, OptionalDouble slopeHigh,
        double intercept, double middleAt, Optional<String> undefined) {
    private static final int EXACT_AT_MOST = 50;

    /** @throws IllegalArgumentException if the arrays differ in length or hold what is not finite */
    public static ReadingTrend of(double[] at, double[] values, double confidenceLevel) {
        Require.that(at.length == values.length, "each reading needs its at, there were %s and %s", at.length, values.length);
        for (int i = 0; i < at.length; i++) {
            Require.that(Double.isFinite(at[i]) && Double.isFinite(values[i]), "readings must be finite numbers");
        }
        Integer[] order = new Integer[at.length];
        Arrays.setAll(order, i -> i);
        Arrays.sort(order, (one, other) -> at[one] != at[other] ? Double.compare(at[one], at[other]) : Double.compare(values[one], values[other]));
        double[] x = new double[at.length];
        double[] y = new double[at.length];
        for (int i = 0; i < x.length; i++) {
            x[i] = at[order[i]];
            y[i] = values[order[i]];
        }
        if (x.length < 2 || x[0] == x[x.length - 1]) {
            return new ReadingTrend(0, OptionalDouble.empty(), 1, 0, OptionalDouble.empty(), OptionalDouble.empty(), 0, 0,
                    Optional.of(x.length < 2 ? "a trend needs two readings at different times" : "all readings are at one time: no slope, no trend"));
        }
        return of(x, y, Kendall.of(x, y), confidenceLevel);
    }

    private static ReadingTrend of(double[] x, double[] y, Kendall kendall, double confidenceLevel) {
        PairSlopes slopes = new PairSlopes(x, y);
        double spread = Normal.z(confidenceLevel) * Math.sqrt(kendall.variance());
        double slope = slopes.median();
        double[] residuals = new double[x.length];
        Arrays.setAll(residuals, i -> y[i] - slope * x[i]);
        Arrays.sort(residuals);
        return new ReadingTrend(kendall.score(), kendall.tau(), kendall.pValue(), slope, slopes.ofRank((slopes.count() - spread) / 2),
                slopes.ofRank((slopes.count() + spread) / 2 + 1), Median.ofSorted(residuals), Median.ofSorted(x), Optional.empty());
    }

    /** S with its variance. */
    private record Kendall(long score, OptionalDouble tau, double variance, double pValue) {
        static Kendall of(double[] x, double[] y) {
            int n = x.length;
            double[] values = y.clone();
            // Within one time the values ascend, so they make no inversion.
            long discordant = Inversions.sortAndCount(values);
            Ties tiesInValue = Ties.ofSorted(values);
            Ties tiesInTime = Ties.ofSorted(x);
            long pairs = (long) n * (n - 1) / 2;
            long tiedInBoth = tiedInBoth(x, y);
            long score = pairs - tiesInTime.pairs() - tiesInValue.pairs() + tiedInBoth - 2 * discordant;
            double free = (double) (pairs - tiesInTime.pairs()) * (pairs - tiesInValue.pairs());
            OptionalDouble tau = free > 0 ? OptionalDouble.of(score / Math.sqrt(free)) : OptionalDouble.empty();
            double variance = variance(n, tiesInTime, tiesInValue);
            boolean exact = tiesInTime.pairs() == 0 && tiesInValue.pairs() == 0 && n <= EXACT_AT_MOST;
            double z = variance > 0 ? Math.max(0, Math.abs(score) - 1) / Math.sqrt(variance) : 0;
            return new Kendall(score, tau, variance, exact ? Inversions.twoSided(n, discordant) : Normal.twoSided(z));
        }

        private static double variance(int n, Ties t, Ties u) {
            double plain = ((double) n * (n - 1) * (2.0 * n + 5) - t.cubic() - u.cubic()) / 18;
            double doubles = t.doubles() * u.doubles() / (2.0 * n * (n - 1));
            double triples = n > 2 ? t.triples() * u.triples() / (9.0 * n * (n - 1) * (n - 2)) : 0;
            return Math.max(0, plain + doubles + triples);
        }

        private static long tiedInBoth(double[] x, double[] y) {
            long pairs = 0;
            int from = 0;
            for (int i = 1; i <= x.length; i++) {
                if (i == x.length || x[i] != x[from] || y[i] != y[from]) {
                    pairs += (long) (i - from) * (i - from - 1) / 2;
                    from = i;
                }
            }
            return pairs;
        }
    }

    /**
     * Where the line meets a limit, and the earliest and latest by the limits of the slope, all lines through the middle of the readings. A limit that the line
     * left behind was met before the middle, and there the steep line met it last.
     *
     * @param earliest empty where a line within the limits of the slope never meets the limit: level, or running away from it
     * @param latest likewise
     */
    public record Crossing(double limit, double at, OptionalDouble earliest, OptionalDouble latest) {}

    /** Of the limit that the slope runs toward; empty where it is level, or runs toward none. */
    public Optional<Crossing> crossing(OptionalDouble low, OptionalDouble high) {
        OptionalDouble limit = undefined.isPresent() || slope == 0 ? OptionalDouble.empty() : slope > 0 ? high : low;
        if (limit.isEmpty()) {
            return Optional.empty();
        }
        double where = (limit.getAsDouble() - intercept) / slope;
        if (!Double.isFinite(where)) {
            return Optional.empty();
        }
        double rest = limit.getAsDouble() - (intercept + slope * middleAt);
        OptionalDouble steep = through(rest, slope > 0 ? slopeHigh : slopeLow);
        OptionalDouble gentle = through(rest, slope > 0 ? slopeLow : slopeHigh);
        boolean ahead = rest * slope > 0;
        return Optional.of(new Crossing(limit.getAsDouble(), where, ahead ? steep : gentle, ahead ? gentle : steep));
    }

    private OptionalDouble through(double rest, OptionalDouble steepness) {
        if (steepness.isEmpty() || steepness.getAsDouble() * slope <= 0) {
            return OptionalDouble.empty();
        }
        double where = middleAt + rest / steepness.getAsDouble();
        return Double.isFinite(where) ? OptionalDouble.of(where) : OptionalDouble.empty();
    }
}
