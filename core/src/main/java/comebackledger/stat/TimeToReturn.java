package comebackledger.stat;

import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import org.apache.commons.numbers.rootfinder.BrentSolver;

/**
 * The Weibull law of the time a repair holds, by maximum likelihood with those still holding censored: share still holding exp(-(t/scale)^shape).
 * <pre>
 *   0 = n/shape + sum over returns of ln t - n sum t^shape ln t / sum t^shape        scale^shape = sum t^shape / n
 *   limits: exp(ln estimate -+ z se), se from the observed information on the logarithms
 * </pre>
 * A shape above 1 wears out, below 1 shows bad repairs early.
 */
public record TimeToReturn(double shape, double scale, double logLikelihood, double shapeLow, double shapeHigh, double scaleLow, double scaleHigh,
        int events) {
    private static final double STEEPEST = 1e4;

    /** A law, or why there is none. */
    public record Fit(Optional<TimeToReturn> law, Optional<String> undefined) {
        private static Fit undefined(String why) {
            return new Fit(Optional.empty(), Optional.of(why));
        }
    }

    /** Repairs that held for no time say nothing of a shape and are left out. */
    public static Fit of(List<HoldCurve.Repair> repairs, double confidenceLevel) {
        List<HoldCurve.Repair> told = repairs.stream().filter(repair -> repair.held() > 0).toList();
        int events = (int) told.stream().filter(HoldCurve.Repair::returned).count();
        if (events == 0) {
            return Fit.undefined("no return: the likelihood has no maximum");
        }
        double longest = told.stream().mapToDouble(HoldCurve.Repair::held).max().orElseThrow();
        double[] logs = told.stream().mapToDouble(repair -> Math.log(repair.held() / longest)).toArray();
        double ofReturns = told.stream().filter(HoldCurve.Repair::returned).mapToDouble(repair -> Math.log(repair.held() / longest)).sum();
        DoubleUnaryOperator score = shape -> events / shape + ofReturns - events * sum(logs, shape, 1) / sum(logs, shape, 0);
        double high = 1;
        while (score.applyAsDouble(high) > 0 && high < STEEPEST) {
            high *= 2;
        }
        if (high >= STEEPEST) {
            return Fit.undefined("all times equal: the shape is unbounded");
        }
        double low = high / 2;
        while (score.applyAsDouble(low) < 0) {
            low /= 2;
        }
        double shape = new BrentSolver(1e-14, 1e-14, 1e-16).findRoot(score, low, high);
        return new Fit(Optional.of(law(shape, logs, ofReturns, events, longest, Normal.z(confidenceLevel))), Optional.empty());
    }

    private static TimeToReturn law(double shape, double[] logs, double ofReturns, int events, double longest, double z) {
        double power = sum(logs, shape, 0);
        double logScale = Math.log(power / events) / shape; // of times over the longest
        double likelihood = events * (Math.log(shape) - shape * logScale) + (shape - 1) * ofReturns - events - events * Math.log(longest);
        // The observed information of ln shape and ln scale at the maximum.
        double first = sum(logs, shape, 1) * events / power - events * logScale;
        double second = sum(logs, shape, 2) * events / power - 2 * logScale * sum(logs, shape, 1) * events / power + events * logScale * logScale;
        double shapeShape = events + shape * shape * second;
        double scaleScale = shape * shape * events;
        double cross = -shape * shape * first;
        double determinant = shapeShape * scaleScale - cross * cross;
        double shapeError = Math.sqrt(scaleScale / determinant);
        double scaleError = Math.sqrt(shapeShape / determinant);
        double scale = longest * Math.exp(logScale);
        return new TimeToReturn(shape, scale, likelihood, shape * Math.exp(-z * shapeError), shape * Math.exp(z * shapeError),
                scale * Math.exp(-z * scaleError), scale * Math.exp(z * scaleError), events);
    }

    /** Sum of t^shape (ln t)^power, t over the longest. */
    private static double sum(double[] logs, double shape, int power) {
        double sum = 0;
        for (double log : logs) {
            sum += Math.exp(shape * log) * Math.pow(log, power);
        }
        return sum;
    }
}
