package comebackledger.stat;

import comebackledger.Require;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;

/**
 * Whether a series left the band of its own usual scatter.
 * <pre>
 *   sigma = mean moving range / d2, d2 = 2/sqrt(pi)
 *   individuals: centre -+ limit sigma
 *   EWMA: z = w x + (1-w) z;  centre -+ limit sigma sqrt( w/(2-w) (1 - (1-w)^(2i)) ), exact for each point
 *   CUSUM: high = max(0, high + x - target - slack), low = max(0, low + target - slack - x); a signal strictly above the decision value, no restart
 * </pre>
 * Slack and decision are in the unit of the values. Source: NIST/SEMATECH e-Handbook, 6.3.2.
 *
 * @param lower of the chart; for a EWMA the limit that the points' own limits grow to, for a cusum minus the decision value
 * @param signals point numbers from 1
 */
public record ControlChart(double centre, OptionalDouble sigma, double lower, double upper, List<Point> points, List<Integer> signals) {
    static final double D2 = 2 / Math.sqrt(Math.PI);
    private static final double USUAL_LIMIT = 3; // Shewhart
    private static final double USUAL_WEIGHT = 0.2; // common practice, no source
    private static final double USUAL_SLACK = 0.5; // sigmas; common practice, no source
    private static final double USUAL_DECISION = 5; // sigmas; common practice, no source

    /** One point; a cusum has {@code high} and {@code low} in place of {@code statistic}. */
    public record Point(double value, OptionalDouble statistic, OptionalDouble high, OptionalDouble low, OptionalDouble lower, OptionalDouble upper,
            boolean signal) {}

    /** What is known beforehand; empty is told from the values. */
    public record Settings(OptionalDouble target, OptionalDouble sigma, OptionalDouble weight, OptionalDouble limit, OptionalDouble slack,
            OptionalDouble decision) {
        public Settings {
            Require.that(weight.orElse(1) > 0 && weight.orElse(1) <= 1, "weight must be above 0 and at most 1, was %s", weight.orElse(1));
            Require.that(sigma.orElse(0) >= 0, "sigma must be 0 or more, was %s", sigma.orElse(0));
            Require.that(limit.orElse(1) > 0, "limit must be above 0, was %s", limit.orElse(1));
            Require.that(slack.orElse(0) >= 0, "slack must be 0 or more, was %s", slack.orElse(0));
            Require.that(decision.orElse(1) > 0, "decision must be above 0, was %s", decision.orElse(1));
        }
    }

    /** Whether the scatter can be told: two values give one moving range. */
    public static boolean tells(double[] baseline) {
        return baseline.length >= 2;
    }

    /** @param baseline the values that centre and scatter are told from */
    public static ControlChart individuals(double[] values, double[] baseline, Settings settings) {
        double centre = settings.target().orElseGet(() -> mean(baseline));
        double sigma = settings.sigma().orElseGet(() -> sigma(baseline));
        double reach = settings.limit().orElse(USUAL_LIMIT) * sigma;
        List<Point> points = new ArrayList<>();
        for (double value : values) {
            points.add(new Point(value, OptionalDouble.of(value), OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.of(centre - reach),
                    OptionalDouble.of(centre + reach), value < centre - reach || value > centre + reach));
        }
        return chart(centre, OptionalDouble.of(sigma), centre - reach, centre + reach, points);
    }

    /** As {@link #individuals}, exponentially weighted. */
    public static ControlChart ewma(double[] values, double[] baseline, Settings settings) {
        double centre = settings.target().orElseGet(() -> mean(baseline));
        double sigma = settings.sigma().orElseGet(() -> sigma(baseline));
        double weight = settings.weight().orElse(USUAL_WEIGHT);
        double most = settings.limit().orElse(USUAL_LIMIT) * sigma * Math.sqrt(weight / (2 - weight));
        List<Point> points = new ArrayList<>();
        double z = centre;
        for (int i = 0; i < values.length; i++) {
            z += weight * (values[i] - z); // exact where nothing moves, so that equal values do not signal
            double reach = most * Math.sqrt(1 - Math.pow(1 - weight, 2.0 * (i + 1)));
            points.add(new Point(values[i], OptionalDouble.of(z), OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.of(centre - reach),
                    OptionalDouble.of(centre + reach), z < centre - reach || z > centre + reach));
        }
        return chart(centre, OptionalDouble.of(sigma), centre - most, centre + most, points);
    }

    /** Tabular sums of what exceeds the slack on either side. */
    public static ControlChart cusum(double[] values, double[] baseline, Settings settings) {
        double centre = settings.target().orElseGet(() -> mean(baseline));
        boolean needsSigma = settings.slack().isEmpty() || settings.decision().isEmpty();
        OptionalDouble sigma = settings.sigma().isPresent() || !needsSigma && baseline.length < 2
                ? settings.sigma()
                : OptionalDouble.of(sigma(baseline));
        double slack = settings.slack().orElseGet(() -> USUAL_SLACK * sigma.orElse(0));
        double decision = settings.decision().orElseGet(() -> USUAL_DECISION * sigma.orElse(0));
        List<Point> points = new ArrayList<>();
        double high = 0;
        double low = 0;
        for (double value : values) {
            high = Math.max(0, high + value - centre - slack);
            low = Math.max(0, low + centre - slack - value);
            points.add(new Point(value, OptionalDouble.empty(), OptionalDouble.of(high), OptionalDouble.of(low), OptionalDouble.empty(),
                    OptionalDouble.empty(), high > decision || low > decision));
        }
        return chart(centre, sigma, -decision, decision, points);
    }

    private static ControlChart chart(double centre, OptionalDouble sigma, double lower, double upper, List<Point> points) {
        List<Integer> signals = new ArrayList<>();
        for (int i = 0; i < points.size(); i++) {
            if (points.get(i).signal()) {
                signals.add(i + 1);
            }
        }
        return new ControlChart(centre, sigma, lower, upper, List.copyOf(points), List.copyOf(signals));
    }

    /** Summed with compensation, so that the mean of equal values is that value, and none of them lies beside it by a rounding. */
    private static double mean(double[] values) {
        Require.that(values.length >= 1, "a centre needs a value");
        return Arrays.stream(values).average().orElseThrow();
    }

    /** Mean moving range over d2. */
    static double sigma(double[] values) {
        Require.that(values.length >= 2, "a moving range needs two values");
        double sum = 0;
        for (int i = 1; i < values.length; i++) {
            sum += Math.abs(values[i] - values[i - 1]);
        }
        return sum / (values.length - 1) / D2;
    }
}
