package comebackledger.air;

import comebackledger.measure.Measured;
import java.util.function.ToDoubleFunction;

/**
 * Uncertainty of a result from independent inputs: half the difference of the result with an input one standard uncertainty up and down, added in
 * quadrature (JCGM 100:2008, 5.1.3, note 2).
 */
final class Propagation {
    private Propagation() {}

    static Measured of(Measured[] inputs, ToDoubleFunction<double[]> result) {
        double[] best = new double[inputs.length];
        for (int i = 0; i < inputs.length; i++) {
            best[i] = inputs[i].value();
        }
        double sum = 0;
        for (int i = 0; i < inputs.length; i++) {
            double step = inputs[i].standardUncertainty();
            if (step > 0) {
                best[i] = inputs[i].value() + step;
                double up = result.applyAsDouble(best);
                best[i] = inputs[i].value() - step;
                double down = result.applyAsDouble(best);
                best[i] = inputs[i].value();
                sum += (up - down) * (up - down) / 4;
            }
        }
        return new Measured(result.applyAsDouble(best), Math.sqrt(sum));
    }
}
