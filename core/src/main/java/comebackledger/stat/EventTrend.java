package comebackledger.stat;

import comebackledger.Require;
import java.util.Arrays;
import java.util.Optional;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * Whether the events of one repairable system come faster or slower with time.
 * <pre>
 *   Laplace               U = (mean t - T/2) / (T / sqrt(12 m))                   normal
 *   MIL-HDBK-189          X = 2 sum ln(T/t)                                       chi-square, 2 m degrees of freedom
 *   reverse arrangements  pairs of gaps whose later gap is strictly longer; exact where no gap is tied and n is at most 50,
 *                         else normal with continuity and tie correction (Kendall)
 * </pre>
 * Truncated by time, T is the end of observation and m = n; truncated by an event, T is the last event and m = n - 1 (the last is not in the sums). All
 * p-values are two-sided, twice the smaller tail. Sources: MIL-HDBK-189C (2011); NIST/SEMATECH e-Handbook, 8.2.3.4.
 *
 * @param undefined why something is missing; empty where nothing is
 */
public record EventTrend(Optional<Test> laplace, Optional<ChiSquareTest> militaryHandbook, Optional<ReverseArrangements> reverseArrangements,
        Optional<PowerLaw> powerLaw, Optional<String> undefined) {
    private static final int EXACT_AT_MOST = 50;

    /** Positive: faster with time. */
    public record Test(double statistic, double pValue) {}

    /** Small: faster with time. */
    public record ChiSquareTest(double statistic, int degreesOfFreedom, double pValue) {}

    public record ReverseArrangements(long count, double pValue, String method) {}

    /** How observation ended. */
    public enum Truncation {
        TIME, EVENT
    }

    /**
     * @param told times of the events in any order, 0 or more
     * @param observedUntil the end of observation, not before the last event; for event truncation the last event itself
     * @throws IllegalArgumentException if a time is negative or after the end
     */
    public static EventTrend of(double[] told, double observedUntil, Truncation truncation) {
        double[] times = told.clone();
        Arrays.sort(times);
        check(times, observedUntil);
        int n = times.length;
        int m = truncation == Truncation.TIME ? n : n - 1;
        if (n == 0) {
            return none("no event: no trend test and no power law");
        }
        if (m == 0) {
            return none("one event that also ends the observation leaves no event inside the window");
        }
        double end = truncation == Truncation.TIME ? observedUntil : times[n - 1];
        if (!(end > 0)) {
            return none("the observation has no length");
        }
        double[] inside = Arrays.copyOf(times, m);
        Optional<ReverseArrangements> reversed = reverseArrangements(times);
        Optional<String> why = reversed.isEmpty() ? Optional.of("reverse arrangements need two gaps") : Optional.empty();
        Test laplace = laplace(inside, end);
        if (inside[0] == 0) {
            return new EventTrend(Optional.of(laplace), Optional.empty(), reversed, Optional.empty(),
                    both(why, "an event at time 0 makes ln(T/t) infinite: no MIL-HDBK-189 test and no power law"));
        }
        double logs = PowerLaw.sumOfLogs(inside, end);
        ChiSquareTest handbook = militaryHandbook(2 * logs, 2 * m);
        if (logs == 0) {
            return new EventTrend(Optional.of(laplace), Optional.of(handbook), reversed, Optional.empty(),
                    both(why, "all events lie at the end: the shape of the power law is unbounded"));
        }
        return new EventTrend(Optional.of(laplace), Optional.of(handbook), reversed, Optional.of(PowerLaw.of(times, end, truncation, logs)), why);
    }

    /**
     * The Laplace test by itself, observation ending at a time.
     *
     * @param inside times of one event at least, above 0 and at most {@code end}
     */
    public static Test laplaceByTime(double[] inside, double end) {
        return laplace(inside, end);
    }

    /** The MIL-HDBK-189 test by itself; parameters as of {@link #laplaceByTime}, in order. */
    public static ChiSquareTest militaryHandbookByTime(double[] inside, double end) {
        return militaryHandbook(2 * PowerLaw.sumOfLogs(inside, end), 2 * inside.length);
    }

    private static void check(double[] times, double observedUntil) {
        for (double time : times) {
            Require.that(time >= 0 && time <= observedUntil, "event times must lie from 0 to observedUntil, was %s", time);
        }
    }

    private static Optional<String> both(Optional<String> first, String second) {
        return Optional.of(first.map(why -> why + "; " + second).orElse(second));
    }

    private static EventTrend none(String why) {
        return new EventTrend(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.of(why));
    }

    private static Test laplace(double[] inside, double end) {
        double mean = Arrays.stream(inside).map(time -> time / end).average().orElseThrow();
        double statistic = (mean - 0.5) * Math.sqrt(12.0 * inside.length);
        return new Test(statistic, Normal.twoSided(statistic));
    }

    private static ChiSquareTest militaryHandbook(double statistic, int degrees) {
        ChiSquaredDistribution law = ChiSquaredDistribution.of(degrees);
        double p = 2 * Math.min(law.cumulativeProbability(statistic), law.survivalProbability(statistic));
        return new ChiSquareTest(statistic, degrees, Math.min(1, p));
    }

    private static Optional<ReverseArrangements> reverseArrangements(double[] times) {
        int n = times.length;
        if (n < 2) {
            return Optional.empty();
        }
        double[] gaps = new double[n];
        for (int i = 0; i < n; i++) {
            gaps[i] = -(times[i] - (i == 0 ? 0 : times[i - 1])); // negated, so that a longer later gap is an inversion
        }
        long longer = Inversions.sortAndCount(gaps);
        Ties ties = Ties.ofSorted(gaps);
        if (ties.pairs() == 0 && n <= EXACT_AT_MOST) {
            return Optional.of(new ReverseArrangements(longer, Inversions.twoSided(n, longer), "exact"));
        }
        long shorter = (long) n * (n - 1) / 2 - longer - ties.pairs();
        double variance = ((double) n * (n - 1) * (2.0 * n + 5) - ties.cubic()) / 18;
        double score = longer - shorter;
        double z = variance > 0 ? Math.max(0, Math.abs(score) - 1) / Math.sqrt(variance) : 0;
        return Optional.of(new ReverseArrangements(longer, Normal.twoSided(z), "normal, continuity and tie corrected"));
    }
}
