package comebackledger.stat;

import comebackledger.Require;
import java.util.List;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * Standard uncertainties put together (JCGM 100:2008, 5.1.2, G.4).
 * <pre>
 *   combined u = sqrt(sum u^2)              effective degrees of freedom = u^4 / sum u_i^4/n_i (Welch and Satterthwaite)
 *   expanded = t u, t of the degrees cut to the whole number below
 * </pre>
 *
 * @param effectiveDegreesOfFreedom empty where nothing is uncertain, or all degrees are without end
 */
public record CombinedUncertainty(double combined, OptionalDouble effectiveDegreesOfFreedom) {
    /** @param degreesOfFreedom empty where they are without end, as of a limit from a data sheet */
    public record Component(double standardUncertainty, OptionalDouble degreesOfFreedom) {
        public Component {
            Require.that(standardUncertainty >= 0 && Double.isFinite(standardUncertainty), "standardUncertainty must be 0 or more, was %s",
                    standardUncertainty);
            Require.that(degreesOfFreedom.orElse(1) > 0, "degreesOfFreedom must be above 0, was %s", degreesOfFreedom.orElse(1));
        }
    }

    /** The standard uncertainty of a value known within a half width (JCGM 100:2008, 4.3.7 to 4.3.9). */
    public enum Shape {
        RECTANGULAR(3), TRIANGULAR(6), ARCSINE(2);

        private final double divisor;

        Shape(double divisor) {
            this.divisor = divisor;
        }

        public double standardUncertainty(double halfWidth) {
            return halfWidth / Math.sqrt(divisor);
        }
    }

    public static CombinedUncertainty of(List<Component> components) {
        double squares = components.stream().mapToDouble(one -> one.standardUncertainty() * one.standardUncertainty()).sum();
        double fourths = components.stream().filter(one -> one.degreesOfFreedom().isPresent())
                .mapToDouble(one -> Math.pow(one.standardUncertainty(), 4) / one.degreesOfFreedom().getAsDouble()).sum();
        return new CombinedUncertainty(Math.sqrt(squares), fourths > 0 ? OptionalDouble.of(squares * squares / fourths) : OptionalDouble.empty());
    }

    /** The factor that widens the combined uncertainty to a coverage probability. */
    public double coverageFactor(double coverage) {
        return effectiveDegreesOfFreedom.isPresent()
                ? TDistribution.of(Math.max(1, Math.floor(effectiveDegreesOfFreedom.getAsDouble()))).inverseSurvivalProbability((1 - coverage) / 2)
                : Normal.z(coverage);
    }

    /** Repeatability from pairs of readings of the same things: sqrt(sum of squared differences / 2n), n degrees of freedom. */
    public static double repeatability(double[] first, double[] second) {
        Require.that(first.length == second.length && first.length > 0, "pairs are needed, there were %s and %s", first.length, second.length);
        double sum = 0;
        for (int i = 0; i < first.length; i++) {
            sum += (first[i] - second[i]) * (first[i] - second[i]);
        }
        return Math.sqrt(sum / (2 * first.length));
    }

    /** The combined uncertainty of a result of correlated inputs. @param sensitivities by input; @param covariance of the inputs' means */
    public static double correlated(double[] sensitivities, double[][] covariance) {
        double sum = 0;
        for (int i = 0; i < sensitivities.length; i++) {
            for (int j = 0; j < sensitivities.length; j++) {
                sum += sensitivities[i] * sensitivities[j] * covariance[i][j];
            }
        }
        return Math.sqrt(Math.max(0, sum));
    }
}
