package comebackledger.fleet;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.stat.HoldCurve;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class HoldsTest {
    private static final Holds.Filter ALL = new Holds.Filter(Optional.empty(), Optional.empty());

    private static Holds holds(double day, Measure measure, Row... rows) {
        return Holds.of(Row.rows(rows), Row.at(day), ALL, measure);
    }

    /** Held 10 days and returned, 20 and still holding, 30 and returned: 2/3, then 0. */
    @Test
    void curve_isOfDaysFromRepairToReturn() {
        Holds holds = holds(100, Measure.DAYS, new Row("A").returned(10, "replaced", 20), new Row("B").held(80, "replaced"),
                new Row("C").returned(40, "replaced", 70));

        HoldCurve curve = holds.items().getFirst().curve();
        assertEquals(List.of(10.0, 30.0), curve.points().stream().map(HoldCurve.Point::at).toList());
        assertEquals(2.0 / 3, curve.points().getFirst().holding(), 1e-12);
        assertEquals(List.of(10.0, 20.0, 30.0), holds.items().getFirst().watched());
        assertEquals(2, holds.items().getFirst().atRisk(15));
    }

    /** 300 km a day: returned after 10 days, watched 60 days more to the instant, past the last reading. */
    @Test
    void distance_runsAlongTheUnitsLine() {
        Row row = new Row("A").visit(0, 0).visit(50, 15_000).returned(10, "replaced", 20).held(40, "replaced");

        Holds holds = holds(100, Measure.KM, row);

        assertEquals(List.of(3000.0, 18_000.0), holds.items().getFirst().watched());
        assertEquals(1, holds.items().getFirst().returned());
    }

    @Test
    void preventiveRepair_endsTheWatchWithoutReturn() {
        Holds holds = holds(100, Measure.DAYS,
                new Row("A").repair(10, "brakes", "cleaned", Optional.empty(), OptionalDouble.of(60), OptionalDouble.of(30)));

        assertEquals(0, holds.items().getFirst().returned());
        assertEquals(List.of(20.0), holds.items().getFirst().watched());
    }

    @Test
    void returnAfterTheInstant_isNotKnown() {
        Holds holds = holds(50, Measure.DAYS, new Row("A").returned(10, "cleaned", 60), new Row("B").held(55, "cleaned"));

        assertEquals(List.of(40.0), holds.items().getFirst().watched());
        assertEquals(0, holds.items().getFirst().returned());
    }

    @Test
    void causes_standBesideTheActionThatPoolsThem() {
        Holds holds = holds(50, Measure.DAYS,
                new Row("A").repair(1, "brakes", "replaced", Optional.of("water"), OptionalDouble.empty(), OptionalDouble.empty()),
                new Row("B").held(2, "replaced"), new Row("C").held(3, "cleaned"));

        assertEquals(List.of("cleaned 1", "replaced 2", "replaced water 1"), holds.items().stream()
                .map(item -> item.action() + item.cause().map(cause -> " " + cause).orElse("") + " " + item.repairs()).toList());
        assertEquals(List.of("cleaned", "replaced"), holds.actions());
    }

    @ParameterizedTest
    @CsvSource({"network.j1939-1.terminator-b, 1", "network.j1939-1.*, 2", "terminator-b, 1", "network.*, 2", "terminator, 0", "network.j1939-1, 0",
            "network.j1939.*, 0"})
    void place_isWholeOrAllBelowOrAPart(String place, int repairs) {
        Row row = new Row("A").repair(1, "terminator-b", "replaced", Optional.empty(), OptionalDouble.empty(), OptionalDouble.empty()).held(2,
                "replaced");

        Holds holds = Holds.of(Row.rows(row), Row.at(50), new Holds.Filter(Optional.of(place), Optional.empty()), Measure.DAYS);

        assertEquals(repairs, holds.items().stream().mapToInt(Holds.Item::repairs).sum());
    }

    @Test
    void curves_coverTheTruth() {
        check(300, 5);
    }

    @Test
    @Tag("long")
    void curves_coverTheTruthOften() {
        check(4000, 17);
    }

    /**
     * Replaced parts hold 60 000 km on average, cleaned ones 20 000 km, watched for 20 to 400 days at 40 to 400 km a day. The 95 % limits at 20 000 km must
     * hold the truth in 93 to 97 %, four binomial deviations allowed for where few fleets are made.
     */
    private static void check(int fleets, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int covered = 0;
        int all = 0;
        int told = 0;
        for (int i = 0; i < fleets; i++) {
            List<Row> rows = new ArrayList<>();
            for (int unit = 0; unit < 120; unit++) {
                double perDay = 40 * Math.pow(10, random.nextDouble());
                double begins = 380 * random.nextDouble();
                Row row = new Row("U" + unit).visit(begins - 100, 1000).visit(begins, 1000 + 100 * perDay);
                boolean replaced = random.nextBoolean();
                double held = -Math.log(1 - random.nextDouble()) * (replaced ? 60_000 : 20_000) / perDay;
                String action = replaced ? "replaced" : "cleaned";
                rows.add(begins + held <= 400 ? row.returned(begins, action, begins + held) : row.held(begins, action));
            }
            Holds holds = holds(400, Measure.KM, rows.toArray(Row[]::new));
            var curves = holds.items().stream().collect(Collectors.toMap(Holds.Item::action, Holds.Item::curve));
            covered += covers(curves.get("replaced"), Math.exp(-1.0 / 3)) + covers(curves.get("cleaned"), Math.exp(-1));
            all += 2;
            told += holds.comparison().pValue().orElse(1) < 0.05 ? 1 : 0;
        }
        double share = (double) covered / all;
        double allowed = 4 * Math.sqrt(0.95 * 0.05 / all);
        assertTrue(share >= 0.93 - allowed / 2 && share <= 0.97 + allowed / 2, "covered " + share);
        assertTrue(told >= 0.9 * fleets, "told apart in " + told + " of " + fleets);
    }

    private static int covers(HoldCurve curve, double truth) {
        HoldCurve.Point point = curve.points().stream().filter(one -> one.at() <= 20_000).reduce((_, later) -> later).orElseThrow();
        return point.low().orElse(0) <= truth && truth <= point.high().orElse(1) ? 1 : 0;
    }
}
