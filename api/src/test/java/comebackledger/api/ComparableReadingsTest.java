package comebackledger.api;

import static comebackledger.api.DispatchStory.air;
import static comebackledger.api.DispatchStory.checks;
import static comebackledger.api.DispatchStory.odometer;
import static comebackledger.api.DispatchStory.repair;
import static comebackledger.api.DispatchStory.repairs;
import static comebackledger.api.DispatchStory.stay;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.briefing.ReadingSeries;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** One trunk and one hole, measured in different ways: a series holds what can be compared, and nothing else. */
class ComparableReadingsTest {
    private static final Instant AT = Instant.parse("2026-07-01T00:00:00Z");
    private static final double FREE_AIR_KG_PER_M3 = 101_325 / (287.05 * 293.15);

    @TempDir
    static Path folder;

    private static DispatchStory story;

    @BeforeAll
    static void open() {
        story = new DispatchStory(folder);
    }

    @AfterAll
    static void close() {
        story.close();
    }

    private static ReadingSeries series(String unit, String name, String... visits) {
        story.at("2026-06-30T00:00:00Z").unit("readings", unit, DispatchStory.BUILD);
        for (int i = 0; i < visits.length; i++) {
            story.visit("readings", unit, "WO-" + i, visits[i]);
        }
        return story.ledger().bench().readings("readings", unit, Optional.of(AT)).orElseThrow().stream().filter(one -> one.series().equals(name))
                .findFirst().orElseThrow();
    }

    private static List<Double> values(ReadingSeries series) {
        return series.points().stream().map(ReadingSeries.Point::value).toList();
    }

    private static String check(String more) {
        return checks("{\"network\": \"j1939-1\", \"power\": \"off\", " + more + "}");
    }

    private static String ohm(String name, double ohm) {
        return "\"" + name + "\": {\"value\": " + ohm + ", \"unit\": \"ohm\"}";
    }

    /** The trunk reads 60.0 ohm: behind leads of 0.9 ohm, with the leads zeroed, and behind leads nobody told (0.2 ohm). */
    @Test
    void leads_areTakenOff() {
        ReadingSeries series = series("LEADS", "network.j1939-1.highLowOhm",
                stay("2026-01-05", check(ohm("highLow", 60.9) + ", " + ohm("leadResistance", 0.9))),
                stay("2026-02-05", check(ohm("highLow", 60.0) + ", " + ohm("leadResistance", 0))), stay("2026-03-05", check(ohm("highLow", 60.2))));

        values(series).forEach(value -> assertEquals(60.0, value, 1e-9));
        assertTrue(series.low().orElseThrow() < 60 && series.high().orElseThrow() > 60);
    }

    /** Live modules, another place, a meter beyond its range: none of them can be compared with the trunk at rest at its connector. */
    @Test
    void whatCannotBeCompared_isLeftOut() {
        ReadingSeries series = series("LEFT-OUT", "network.j1939-1.highLowOhm", stay("2026-01-05", check(ohm("highLow", 60.2))),
                stay("2026-02-05", check(ohm("highLow", 75)).replace("\"off\"", "\"on\"")),
                stay("2026-03-05", check("\"atModule\": \"dash\", " + ohm("highLow", 61))),
                stay("2026-04-05", check("\"highLow\": {\"overRange\": true, \"unit\": \"Mohm\"}")));

        assertEquals(List.of("WO-0"), series.points().stream().map(ReadingSeries.Point::visit).toList());
    }

    /** kg/s through a hole: choked below a pressure ratio of 0.5283, isentropic above (NACA Report 1135); written out here once more. */
    private static double flowKgPerS(double mm, double coefficient, double gaugePa) {
        double upstream = 101_325 + gaugePa;
        double ratio = Math.max(101_325 / upstream, 0.528282);
        double psi = Math.sqrt(2 * 1.4 / 0.4 * (Math.pow(ratio, 2 / 1.4) - Math.pow(ratio, 2.4 / 1.4)));
        return coefficient * Math.PI / 4 * mm * mm * 1e-6 * upstream / Math.sqrt(287.05 * 293.15) * psi;
    }

    private static String heldFlow(double psi, double mm, double coefficient, String more) {
        double litres = flowKgPerS(mm, coefficient, psi * 6_894.757) / FREE_AIR_KG_PER_M3 * 60_000;
        return air(String.format(Locale.ROOT, "{\"method\": \"held-flow\", \"testPressure\": {\"value\": %.1f, \"unit\": \"psi\"}, "
                + "\"flow\": {\"value\": %.4f, \"unit\": \"L/min\"}%s}", psi, litres, more));
    }

    /** A hole of 3 mm is a hole of 3 mm at 5, 10 and 20 psi, and whatever discharge coefficient the shop works its hole out with. */
    @Test
    void hole_isTheSameAtEveryTestPressureAndCoefficient() {
        ReadingSeries series = series("HOLE", "charge-air.orificeMm", stay("2026-01-05", heldFlow(5, 3, 0.65, "")),
                stay("2026-02-05", heldFlow(10, 3, 0.65, "")), stay("2026-03-05", heldFlow(20, 3, 0.65, "")),
                stay("2026-04-05", heldFlow(15, 3, 0.65, ", \"dischargeCoefficient\": 0.8")));

        values(series).forEach(value -> assertEquals(3.0, value, 0.005, series.points().toString()));
    }

    /**
     * The trend counts what was read since the last repair, its as-left reading included; a line of 0.1 ohm a week without an odometer runs over days: by hand
     * 0.1/7 ohm a day.
     */
    @Test
    void trend_startsAnewAtARepair_andRunsOverDaysWithoutAnOdometer() {
        String[] visits = new String[6];
        for (int i = 0; i < visits.length; i++) {
            String day = LocalDate.parse("2026-02-02").plusDays(7L * i).toString();
            String reading = "{\"network\": \"j1939-1\", \"power\": \"off\", \"stage\": \"%s\", "
                    + ohm("highLow", Math.round((60.2 + 0.1 * i) * 10) / 10.0)
                    + "}";
            visits[i] = i == 1
                    ? stay(day, odometer(100_000),
                            checks(String.format(reading, "as-found").replace("60.3", "61.7"), String.format(reading, "as-left")),
                            repairs(repair("network.j1939-1.connector", true)))
                    : stay(day, checks(String.format(reading, "as-found")));
        }

        ReadingSeries series = series("ANEW", "network.j1939-1.highLowOhm", visits);

        assertEquals(List.of(false, false, true, true, true, true, true), series.points().stream().map(ReadingSeries.Point::counts).toList());
        assertEquals(ReadingSeries.Axis.DAYS, series.axis());
        assertEquals(0.1 / 7, series.trend().slope(), 1e-9);
        assertEquals(Instant.parse("2026-02-09T08:00:00Z"), series.origin().orElseThrow());
        assertEquals(OptionalDouble.of(100_000), series.points().get(1).km());
        assertEquals(OptionalDouble.empty(), series.points().get(3).km());
        // 60.7 read at the last visit, 28 days after the first that counts: 60.5 without the leads.
        double crossing = 28 + (series.high().orElseThrow() - 60.5) / (0.1 / 7);
        assertEquals(crossing, series.crossing().orElseThrow().at(), 1e-6);
    }
}
