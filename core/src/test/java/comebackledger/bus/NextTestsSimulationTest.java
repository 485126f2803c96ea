package comebackledger.bus;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Minutes to isolate a fault when the advice is followed, against a fixed order of the same tests. */
class NextTestsSimulationTest {
    private static double ratio(int cases, int seed) {
        double advised = 0;
        double byTheBook = 0;
        for (int i = 0; i < cases; i++) {
            SplittableRandom random = new SplittableRandom(seed + i);
            Simulated.Truth truth = Simulated.draw(random, SimulatedBuild.told(random, random.nextInt(3, 10), SimulatedBuild.Known.ALL));
            advised += new Technician(new SplittableRandom(i), truth).minutesAsAdvised();
            byTheBook += new Technician(new SplittableRandom(i), truth).minutesByTheBook();
        }
        return advised / byTheBook;
    }

    /** 60 cases: the bound of the long run with room for chance. */
    @Test
    void advice_onSimulatedFaults_isQuickerThanAFixedOrder() {
        double ratio = ratio(60, 500);

        assertTrue(ratio <= 0.8, () -> "minutes as advised over minutes by the book: " + ratio);
    }

    @Tag("long")
    @Test
    void advice_onManySimulatedFaults_takesThreeQuartersOfAFixedOrder() {
        double ratio = ratio(1000, 5000);

        assertTrue(ratio <= 0.75, () -> "minutes as advised over minutes by the book: " + ratio);
    }
}
