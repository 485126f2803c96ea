package comebackledger.stat;

import comebackledger.stat.EventTrend.Truncation;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.numbers.rootfinder.BrentSolver;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.GammaDistribution;

/**
 * The power-law process: expected events to t are (t/scale)^shape; above 1 they come faster with time.
 * <pre>
 *   shape = n / sum ln(T/t)                scale = T / n^(1/shape)           mean between events at the end = T/(n shape)
 *   unbiased shape: (n-1)/n (time) or (n-2)/n (event) of it
 *   limits of the shape: shape chi2(q)/(2n), 2n (time) or 2n-2 (event) degrees of freedom
 *   Cramer-von Mises: 1/(12m) + sum ((t/T)^unbiased - (2i-1)/(2m))^2
 * </pre>
 * Limits of the mean between events, exact at 95 %. By time: given s = sum ln(T/t), P(N = k) is in proportion to x^k/(k!(k-1)!), x = s T/mean (Crow 1982,
 * MIL-HDBK-189C). By event: mean/estimate = 2 n^2/(X G) with X chi-square of 2n-2 degrees and G gamma of shape n.
 *
 * @param meanBetweenEventsAtEndHigh empty with a single event, which bounds the rate from one side only
 */
public record PowerLaw(double shape, OptionalDouble shapeUnbiased, double scale, double shapeLow, double shapeHigh, double cramerVonMises,
        double meanBetweenEventsAtEnd, double meanBetweenEventsAtEndLow, OptionalDouble meanBetweenEventsAtEndHigh) {
    private static final double TAIL = 0.025;
    private static final BrentSolver SOLVER = new BrentSolver(1e-13, 1e-13, 1e-15);

    static double sumOfLogs(double[] inside, double end) {
        double sum = 0;
        for (double time : inside) {
            sum += Math.log(end / time);
        }
        return sum;
    }

    static PowerLaw of(double[] times, double end, Truncation truncation, double logs) {
        int n = times.length;
        boolean byTime = truncation == Truncation.TIME;
        int m = byTime ? n : n - 1;
        double shape = n / logs;
        double unbiased = shape * (byTime ? n - 1 : n - 2) / n;
        ChiSquaredDistribution law = ChiSquaredDistribution.of(2.0 * m);
        double mean = end / (n * shape);
        double[] limits = byTime ? meanByTime(n, logs, end) : meanByEvent(n, mean);
        return new PowerLaw(shape, unbiased > 0 ? OptionalDouble.of(unbiased) : OptionalDouble.empty(), end / Math.pow(n, 1 / shape),
                shape * law.inverseCumulativeProbability(TAIL) / (2.0 * n), shape * law.inverseSurvivalProbability(TAIL) / (2.0 * n),
                cramerVonMises(times, m, end, unbiased), mean, limits[0], limits.length > 1 ? OptionalDouble.of(limits[1]) : OptionalDouble.empty());
    }

    private static double cramerVonMises(double[] times, int m, double end, double unbiased) {
        double sum = 1 / (12.0 * m);
        for (int i = 0; i < m; i++) {
            double apart = Math.pow(times[i] / end, unbiased) - (2 * i + 1) / (2.0 * m);
            sum += apart * apart;
        }
        return sum;
    }

    private static double[] meanByTime(int n, double logs, double end) {
        double most = solve(logX -> below(n, Math.exp(logX)) - TAIL, 2 * Math.log(n));
        if (n == 1) {
            return new double[]{end * logs / Math.exp(most)}; // one event bounds the rate from one side only
        }
        double least = solve(logX -> 1 - below(n - 1, Math.exp(logX)) - TAIL, 2 * Math.log(n));
        return new double[]{end * logs / Math.exp(most), end * logs / Math.exp(least)};
    }

    /** P(N <= k) where P(N = j) is in proportion to x^j/(j!(j-1)!), j from 1. */
    private static double below(int k, double x) {
        if (k < 1) {
            return 0;
        }
        // The largest term stands near the root of x; both directions are summed from it until nothing is added.
        int mode = (int) Math.max(1, Math.floor((1 + Math.sqrt(1 + 4 * x)) / 2));
        double lower = 0;
        double upper = 0;
        double term = 1;
        for (int j = mode; j >= 1 && term > 1e-20; j--) {
            if (j <= k) {
                lower += term;
            } else {
                upper += term;
            }
            term *= (double) j * (j - 1) / x;
        }
        term = x / ((mode + 1.0) * mode);
        for (int j = mode + 1; term > 1e-20; j++) {
            if (j <= k) {
                lower += term;
            } else {
                upper += term;
            }
            term *= x / ((j + 1.0) * j);
        }
        return lower / (lower + upper);
    }

    private static double[] meanByEvent(int n, double mean) {
        double most = solve(logV -> product(n, Math.exp(logV)) - (1 - TAIL), Math.log(2.0 * n * Math.max(1, n - 1)));
        double least = solve(logV -> product(n, Math.exp(logV)) - TAIL, Math.log(2.0 * n * Math.max(1, n - 1)));
        return new double[]{mean * 2.0 * n * n / Math.exp(most), mean * 2.0 * n * n / Math.exp(least)};
    }

    /** P(X G <= v), X chi-square of 2n-2 degrees of freedom, G gamma of shape n: the trapezoid over ln G, which is smooth and falls off both ways. */
    private static double product(int n, double v) {
        ChiSquaredDistribution x = ChiSquaredDistribution.of(2.0 * n - 2);
        GammaDistribution g = GammaDistribution.of(n, 1);
        double from = Math.log(g.inverseCumulativeProbability(1e-18));
        double to = Math.log(g.inverseSurvivalProbability(1e-18));
        int steps = 400;
        double width = (to - from) / steps;
        double sum = 0;
        double weight = 0;
        for (int i = 0; i <= steps; i++) {
            double value = Math.exp(from + i * width);
            double density = Math.exp(g.logDensity(value) + Math.log(value));
            sum += density * x.cumulativeProbability(v / value);
            weight += density;
        }
        return sum / weight;
    }

    /** The root of a monotone function of a logarithm, bracketed outward from a guess. */
    private static double solve(DoubleUnaryOperator function, double guess) {
        double low = guess - 1;
        double high = guess + 1;
        double atLow = function.applyAsDouble(low);
        double atHigh = function.applyAsDouble(high);
        for (int i = 0; i < 100 && atLow * atHigh > 0; i++) {
            low -= 1;
            high += 1;
            atLow = function.applyAsDouble(low);
            atHigh = function.applyAsDouble(high);
        }
        return SOLVER.findRoot(function, low, high);
    }
}
