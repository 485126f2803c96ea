package comebackledger.bus;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Minutes to isolate a fault when the advice is followed, against a fixed order of the same tests and against an oracle's own choice. */
class NextTestsSimulationTest {
    /** Minutes summed, and how often the isolated fault was the true one. */
    static final class Tally {
        int cases;
        double advised;
        double byTheBook;
        double oracle;
        int advisedRight;
        int bookRight;
        int oracleRight;

        @Override
        public String toString() {
            return String.format(java.util.Locale.ROOT,
                    "%d cases: mean minutes as advised %.1f (right in %d), by the book %.1f (%d), the oracle's %.1f (%d): %.3f of the book, %.3f of the oracle",
                    cases, advised / cases, advisedRight, byTheBook / cases, bookRight, oracle / cases, oracleRight, advised / byTheBook,
                    advised / oracle);
        }
    }

    /** Faults that a test at the vehicle can tell: not those of no list, nor those that only a code or the supply shows. */
    private static Simulated.Truth draw(SplittableRandom random, Circuit told) {
        Simulated.Truth truth = Simulated.draw(random, told);
        return switch (truth.kind()) {
            case OTHER, SENDER_DATA, SUPPLY_LOW, REPORTER_ITSELF -> draw(random, told);
            default -> truth;
        };
    }

    static Tally run(int builds, int casesEach, int worldsPerCause, int seed) {
        Tally tally = new Tally();
        for (int build = 0; build < builds; build++) {
            SplittableRandom random = new SplittableRandom(seed + build);
            SimulatedBuild.Known known = SimulatedBuild.Known.values()[build % 3];
            Circuit told = SimulatedBuild.told(random, random.nextInt(3, 10), known);
            OracleTechnician oracle = worldsPerCause > 0 ? new OracleTechnician(random, told, worldsPerCause) : null;
            for (int i = 0; i < casesEach; i++) {
                Simulated.Truth truth = draw(random, told);
                int hand = random.nextInt();
                Technician.Work advised = new Technician(new SplittableRandom(hand), truth).asAdvised();
                Technician.Work byTheBook = new Technician(new SplittableRandom(hand), truth).byTheBook();
                tally.cases++;
                tally.advised += advised.minutes();
                tally.byTheBook += byTheBook.minutes();
                tally.advisedRight += advised.right() ? 1 : 0;
                tally.bookRight += byTheBook.right() ? 1 : 0;
                if (oracle != null) {
                    Technician.Work best = oracle.work(new Technician(new SplittableRandom(hand), truth), truth);
                    tally.oracle += best.minutes();
                    tally.oracleRight += best.right() ? 1 : 0;
                }
            }
        }
        return tally;
    }

    /** 60 cases: the bounds of the long run with room for chance. */
    @Test
    void advice_onSimulatedFaults_isQuickerThanAFixedOrder() {
        Tally tally = run(6, 10, 0, 500);

        assertTrue(tally.advised <= 0.8 * tally.byTheBook, tally::toString);
    }

    @Tag("long")
    @Test
    void advice_onManySimulatedFaults_isNearTheOracles() {
        Tally tally = run(24, 25, 400, 5000);

        System.out.println(tally);
        assertTrue(tally.advised <= 0.75 * tally.byTheBook, tally::toString);
        assertTrue(tally.advised <= 1.15 * tally.oracle, tally::toString);
    }
}
