package comebackledger.fleet;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.SplittableRandom;
import org.apache.commons.numbers.gamma.RegularizedGamma;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Beside the exact tail of Apache Commons Numbers, over six deviations either way and far beyond. */
class GammaTailTest {
    private static final long SEED = 20_261_130;

    @ParameterizedTest
    @ValueSource(doubles = {0.01, 0.1, 0.35, 0.999, 1, 1.7, 5, 42.3, 333, GammaTail.LARGEST_SHAPE})
    void at_agreesWithTheExactTail(double shape) {
        GammaTail tail = new GammaTail(shape);
        SplittableRandom random = new SplittableRandom(SEED);
        for (int i = 0; i < 20_000; i++) {
            double deviations = i % 10 == 0 ? 40 : 6;
            double x = shape * Math.exp(deviations * (2 * random.nextDouble() - 1) / Math.sqrt(shape));
            assertEquals(RegularizedGamma.Q.value(shape, x), tail.at(x), GammaTail.ERROR, "shape " + shape + ", x " + x);
        }
    }
}
