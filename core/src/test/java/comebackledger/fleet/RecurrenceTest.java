package comebackledger.fleet;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.stat.MeanCumulative;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

class RecurrenceTest {
    /** Both units watched at 20 days: 1/2; only one at 60 days: 1/2 + 1. */
    @Test
    void mean_isOfTheUnitsStillWatched() {
        Recurrence recurrence = Recurrence.of(Row.rows(new Row("A").visit(0).fresh(20).fresh(60), new Row("B").visit(50)), Row.at(100), Measure.DAYS);

        assertEquals(List.of(20.0, 60.0), recurrence.points().stream().map(MeanCumulative.Point::at).toList());
        assertEquals(List.of(0.5, 1.5), recurrence.points().stream().map(MeanCumulative.Point::mean).toList());
        assertEquals(List.of(50.0, 100.0), recurrence.watched());
    }

    /** 300 km a day: the episode of day 20 at 6 000 km, the one before the first reading not watched. */
    @Test
    void distance_countsFromTheFirstReading() {
        Row row = new Row("A").visit(0).fresh(5).visit(10, 3000).fresh(20).noFaultFound(30).visit(40, 12_000);

        Recurrence recurrence = Recurrence.of(Row.rows(row, new Row("B").visit(0)), Row.at(40), Measure.KM);

        assertEquals(List.of(3000.0), recurrence.points().stream().map(MeanCumulative.Point::at).toList());
        assertEquals(List.of(9000.0), recurrence.watched(), "a unit that never showed a distance is not watched by it");
    }

    @Test
    void system_isAskedAlone() {
        FleetQuestion question = new FleetQuestion(Optional.empty(), Optional.of("charge-air"), Row.day(40));

        Recurrence recurrence = Recurrence.of(Row.rows(new Row("A").visit(0).fresh(5).fresh(9, "charge-air")), question, Measure.DAYS);

        assertEquals(List.of(9.0), recurrence.points().stream().map(MeanCumulative.Point::at).toList());
    }

    @Test
    void limits_coverTheTruth() {
        check(300, 23);
    }

    @Test
    @Tag("long")
    void limits_coverTheTruthOften() {
        check(4000, 29);
    }

    /** Units with their own rates (exponential, mean 1 in 100 days), each failing by a Poisson law: the mean at 150 days is 1.5. */
    private static void check(int fleets, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int covered = 0;
        for (int i = 0; i < fleets; i++) {
            List<Row> rows = new ArrayList<>();
            for (int unit = 0; unit < 100; unit++) {
                double rate = -Math.log(1 - random.nextDouble()) / 100;
                double begins = 200 * random.nextDouble();
                Row row = new Row("U" + unit).visit(begins);
                for (double day = begins - Math.log(1 - random.nextDouble()) / rate; day < 400; day -= Math.log(1 - random.nextDouble()) / rate) {
                    row.fresh(day);
                }
                rows.add(row);
            }
            MeanCumulative.Point point = Recurrence.of(Row.rows(rows.toArray(Row[]::new)), Row.at(400), Measure.DAYS).points().stream()
                    .filter(one -> one.at() <= 150).reduce((_, later) -> later).orElseThrow();
            covered += point.low().orElse(0) <= 1.5 && 1.5 <= point.high().orElse(9) ? 1 : 0;
        }
        double share = (double) covered / fleets;
        double allowed = 4 * Math.sqrt(0.95 * 0.05 / fleets);
        assertTrue(share >= 0.93 - allowed / 2 && share <= 0.97 + allowed / 2, "covered " + share);
    }
}
