package comebackledger.stat;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Named;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The published cases of {@code /stat}, each with its source and its convention in the file; relative 1e-9 unless a test says why not. */
class PublishedTest {
    private static final double RELATIVE = 1e-9;

    private static Stream<Named<JsonNode>> cases(String file) {
        try (InputStream in = PublishedTest.class.getResourceAsStream("/stat/" + file + ".json")) {
            JsonNode all = new ObjectMapper().readTree(in);
            return StreamSupport.stream(all.spliterator(), false)
                    .filter(one -> !one.get("expected").has("error") && !one.get("inputs").has("generator"))
                    .map(one -> Named.of(one.get("id").asText() + ": " + one.path("source").asText(), one));
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    private static void same(JsonNode expected, double actual, String what) {
        double value = expected.asDouble();
        assertEquals(value, actual, RELATIVE * Math.abs(value) + 1e-300, what);
    }

    private static void same(JsonNode expected, OptionalDouble actual, String what) {
        if (expected == null || expected.isMissingNode()) {
            return;
        }
        if (expected.isNull() || expected.has("undefined")) {
            assertTrue(actual.isEmpty(), what + " must be left out");
        } else {
            same(expected, actual.orElseThrow(() -> new AssertionError(what + " is missing")), what);
        }
    }

    private static double[] numbers(JsonNode list) {
        return StreamSupport.stream(list.spliterator(), false).mapToDouble(JsonNode::asDouble).toArray();
    }

    static Stream<Named<JsonNode>> eventTrends() {
        return cases("event_trend").filter(named -> named.getPayload().get("inputs").has("eventTimes"));
    }

    @ParameterizedTest
    @MethodSource("eventTrends")
    void eventTrend(JsonNode one) {
        JsonNode inputs = one.get("inputs");
        JsonNode expected = one.get("expected");
        double[] times = numbers(inputs.get("eventTimes"));
        EventTrend.Truncation truncation = inputs.get("truncation").asText().equals("time")
                ? EventTrend.Truncation.TIME
                : EventTrend.Truncation.EVENT;

        EventTrend trend = EventTrend.of(times, inputs.path("observedUntil").asDouble(times.length == 0 ? 0 : times[times.length - 1]), truncation);

        if (expected.has("laplace")) {
            EventTrend.Test laplace = trend.laplace().orElseThrow();
            assertEquals(expected.at("/laplace/statistic").asDouble(), laplace.statistic(), 1e-9, "laplace");
            same(expected.at("/laplace/pValue"), OptionalDouble.of(laplace.pValue()), "laplace p");
        }
        if (expected.has("militaryHandbook")) {
            same(expected.at("/militaryHandbook/statistic"), trend.militaryHandbook().orElseThrow().statistic(), "handbook");
            same(expected.at("/militaryHandbook/pValue"), trend.militaryHandbook().orElseThrow().pValue(), "handbook p");
            assertEquals(expected.at("/militaryHandbook/degreesOfFreedom").asInt(), trend.militaryHandbook().orElseThrow().degreesOfFreedom());
        }
        if (expected.at("/reverseArrangements/count").isNumber()) {
            assertEquals(expected.at("/reverseArrangements/count").asLong(), trend.reverseArrangements().orElseThrow().count());
            same(expected.at("/reverseArrangements/pValue"), OptionalDouble.of(trend.reverseArrangements().orElseThrow().pValue()), "reversals p");
        }
        if (expected.at("/powerLaw/shape").isNumber()) {
            PowerLaw law = trend.powerLaw().orElseThrow();
            JsonNode figures = expected.get("powerLaw");
            same(figures.path("shape"), OptionalDouble.of(law.shape()), "shape");
            same(figures.path("shapeUnbiased"), law.shapeUnbiased(), "unbiased shape");
            same(figures.path("scale"), OptionalDouble.of(law.scale()), "scale");
            same(figures.path("shapeLow"), OptionalDouble.of(law.shapeLow()), "shape low");
            same(figures.path("shapeHigh"), OptionalDouble.of(law.shapeHigh()), "shape high");
            same(figures.path("cramerVonMises"), OptionalDouble.of(law.cramerVonMises()), "Cramer-von Mises");
            same(figures.path("meanBetweenEventsAtEnd"), OptionalDouble.of(law.meanBetweenEventsAtEnd()), "mean");
            JsonNode low = figures.path("meanBetweenEventsAtEndLow");
            JsonNode high = figures.path("meanBetweenEventsAtEndHigh");
            if (low.isNumber()) {
                // The file finds them by quadrature: finer steps move ours by under 1e-12 and differ from its figure by 5.5e-7.
                assertEquals(low.asDouble(), law.meanBetweenEventsAtEndLow(), 1e-6 * low.asDouble(), "mean low");
                assertEquals(high.asDouble(), law.meanBetweenEventsAtEndHigh().orElseThrow(), 1e-6 * high.asDouble(), "mean high");
            }
        } else if (!expected.has("powerLaw")) {
            assertTrue(trend.powerLaw().isEmpty(), "no power law");
        }
    }

    static Stream<Named<JsonNode>> meanCumulatives() {
        return cases("mean_cumulative");
    }

    @ParameterizedTest
    @MethodSource("meanCumulatives")
    void meanCumulative(JsonNode one) {
        List<MeanCumulative.History> units = new ArrayList<>();
        one.get("inputs").get("units")
                .forEach(unit -> units.add(new MeanCumulative.History(numbers(unit.get("events")), unit.get("observedUntil").asDouble())));

        List<MeanCumulative.Point> points = MeanCumulative.of(units, one.get("inputs").path("confidenceLevel").asDouble(0.95));

        JsonNode expected = one.get("expected").path("points");
        assertEquals(expected.size(), points.size(), "points");
        for (int i = 0; i < points.size(); i++) {
            same(expected.get(i).get("at"), points.get(i).at(), "at");
            same(expected.get(i).get("atRisk"), points.get(i).atRisk(), "at risk");
            same(expected.get(i).get("mean"), points.get(i).mean(), "mean");
            assertEquals(expected.get(i).path("standardError").asDouble(), points.get(i).standardError(), 1e-9, "error");
            if (expected.get(i).path("low").isNumber()) {
                same(expected.get(i).path("low"), points.get(i).low(), "low");
                same(expected.get(i).path("high"), points.get(i).high(), "high");
            }
        }
    }

    private static List<HoldCurve.Repair> repairs(JsonNode list) {
        List<HoldCurve.Repair> repairs = new ArrayList<>();
        list.forEach(repair -> repairs.add(new HoldCurve.Repair(repair.get("held").asDouble(), repair.get("returned").asBoolean())));
        return repairs;
    }

    static Stream<Named<JsonNode>> holdCurves() {
        return cases("repair_hold");
    }

    @ParameterizedTest
    @MethodSource("holdCurves")
    void holdCurve(JsonNode one) {
        HoldCurve curve = HoldCurve.of(repairs(one.get("inputs").get("repairs")), one.get("inputs").path("confidenceLevel").asDouble(0.95));

        JsonNode expected = one.get("expected");
        assertEquals(expected.get("points").size(), curve.points().size());
        for (int i = 0; i < curve.points().size(); i++) {
            JsonNode point = expected.get("points").get(i);
            same(point.get("at"), curve.points().get(i).at(), "at");
            same(point.get("atRisk"), curve.points().get(i).atRisk(), "at risk");
            same(point.get("returned"), curve.points().get(i).returned(), "returned");
            same(point.get("holding"), curve.points().get(i).holding(), "holding");
            same(point.path("standardError"), curve.points().get(i).standardError(), "error");
            same(point.path("low"), curve.points().get(i).low(), "low");
            same(point.path("high"), curve.points().get(i).high(), "high");
        }
        same(expected.path("median"), curve.median(), "median");
        same(expected.path("medianLow"), curve.medianLow(), "median low");
        same(expected.path("medianHigh"), curve.medianHigh(), "median high");
    }

    static Stream<Named<JsonNode>> holdComparisons() {
        return cases("hold_comparison");
    }

    @ParameterizedTest
    @MethodSource("holdComparisons")
    void holdComparison(JsonNode one) {
        List<List<HoldCurve.Repair>> groups = new ArrayList<>();
        one.get("inputs").get("groups").forEach(group -> groups.add(repairs(group.get("repairs"))));

        HoldComparison comparison = HoldComparison.of(groups);

        JsonNode expected = one.get("expected");
        same(expected.path("statistic"), comparison.chiSquare(), "chi-square");
        same(expected.path("pValue"), comparison.pValue(), "p");
        for (int i = 0; i < groups.size() && expected.has("expected"); i++) {
            same(expected.get("expected").get(i), comparison.expected()[i], "expected");
            same(expected.get("observed").get(i), comparison.observed()[i], "observed");
        }
    }

    static Stream<Named<JsonNode>> readingTrends() {
        return cases("reading_trend");
    }

    @ParameterizedTest
    @MethodSource("readingTrends")
    void readingTrend(JsonNode one) {
        JsonNode inputs = one.get("inputs");
        JsonNode expected = one.get("expected");
        double[] at = StreamSupport.stream(inputs.get("points").spliterator(), false).mapToDouble(point -> point.get("at").asDouble()).toArray();
        double[] values = StreamSupport.stream(inputs.get("points").spliterator(), false).mapToDouble(point -> point.get("value").asDouble())
                .toArray();

        ReadingTrend trend = ReadingTrend.of(at, values, expected.path("confidenceLevel").asDouble(0.95));

        if (expected.has("undefined")) {
            assertTrue(trend.undefined().isPresent());
            return;
        }
        assertEquals(expected.get("kendallS").asLong(), trend.kendallS());
        same(expected.path("tau"), trend.tau(), "tau");
        same(expected.path("pValue"), OptionalDouble.of(trend.pValue()), "p");
        assertEquals(expected.get("slope").asDouble(), trend.slope(), 1e-12 + 1e-9 * Math.abs(trend.slope()), "slope");
        same(expected.path("slopeLow"), trend.slopeLow(), "slope low");
        same(expected.path("slopeHigh"), trend.slopeHigh(), "slope high");
        same(expected.path("intercept"), OptionalDouble.of(trend.intercept()), "intercept");
        OptionalDouble low = inputs.has("low") ? OptionalDouble.of(inputs.get("low").asDouble()) : OptionalDouble.empty();
        OptionalDouble high = inputs.has("high") ? OptionalDouble.of(inputs.get("high").asDouble()) : OptionalDouble.empty();
        if (expected.path("crossing").isNumber()) {
            same(expected.get("crossing"), trend.crossing(low, high).orElseThrow().at(), "crossing");
        }
    }

    static Stream<Named<JsonNode>> rateComparisons() {
        return cases("rate_comparison");
    }

    @ParameterizedTest
    @MethodSource("rateComparisons")
    void rateComparison(JsonNode one) {
        List<RateComparison.Count> counts = new ArrayList<>();
        one.get("inputs").get("units")
                .forEach(unit -> counts
                        .add(new RateComparison.Count(unit.get("id").asText(), unit.get("events").asDouble(), unit.get("exposure").asDouble())));

        RateComparison comparison = RateComparison.of(counts, one.get("inputs").path("factor").asDouble(2), 0.05);

        JsonNode expected = one.get("expected");
        if (expected.at("/prior/shape").isNumber()) {
            // The likelihood is flat at its top: the file's own optimum is known to seven digits.
            assertEquals(expected.at("/prior/shape").asDouble(), comparison.prior().prior().orElseThrow().shape(),
                    1e-6 * expected.at("/prior/shape").asDouble());
            assertEquals(expected.at("/prior/rate").asDouble(), comparison.prior().prior().orElseThrow().rate(),
                    1e-6 * expected.at("/prior/rate").asDouble());
        } else if (expected.has("prior")) {
            assertTrue(comparison.prior().absent().isPresent(), "a reason for no prior");
        }
        for (int i = 0; i < counts.size() && i < expected.path("units").size(); i++) {
            JsonNode unit = expected.get("units").get(i);
            RateComparison.Unit got = comparison.units().get(i);
            if (unit.path("crude").isNumber()) {
                same(unit.get("crude"), got.crude().orElseThrow().rate(), "crude");
            }
            if (unit.has("crudeLow")) {
                same(unit.path("crudeLow"), OptionalDouble.of(got.crude().orElseThrow().low()), "crude low");
                same(unit.path("crudeHigh"), OptionalDouble.of(got.crude().orElseThrow().high()), "crude high");
            }
            close(unit.path("posteriorMean"), got.posteriorMean(), 1e-6);
            close(unit.path("low"), got.low(), 1e-6);
            close(unit.path("high"), got.high(), 1e-6);
            close(unit.path("probabilityAbove"), got.probabilityAbove(), 1e-4);
            close(unit.path("pValue"), got.pValue(), 1e-9);
            close(unit.path("qValue"), got.qValue(), 1e-9);
        }
    }

    private static void close(JsonNode expected, OptionalDouble actual, double relative) {
        if (expected.isNumber()) {
            assertEquals(expected.asDouble(), actual.orElseThrow(), relative * Math.abs(expected.asDouble()) + 1e-40);
        }
    }

    static Stream<Named<JsonNode>> controlCharts() {
        return cases("control_chart").filter(named -> named.getPayload().get("inputs").has("values"));
    }

    @ParameterizedTest
    @MethodSource("controlCharts")
    void controlChart(JsonNode one) {
        JsonNode inputs = one.get("inputs");
        JsonNode expected = one.get("expected");
        double[] values = numbers(inputs.get("values"));
        if (expected.has("undefined")) {
            assertTrue(!ControlChart.tells(values));
            return;
        }
        double[] baseline = inputs.has("baseline") ? Arrays.copyOf(values, inputs.get("baseline").asInt()) : values;
        ControlChart.Settings settings = new ControlChart.Settings(optional(inputs, "target"), optional(inputs, "sigma"), optional(inputs, "weight"),
                optional(inputs, "limit"), optional(inputs, "slack"), optional(inputs, "decision"));

        ControlChart chart = switch (inputs.get("chart").asText()) {
            case "ewma" -> ControlChart.ewma(values, baseline, settings);
            case "cusum" -> ControlChart.cusum(values, baseline, settings);
            default -> ControlChart.individuals(values, baseline, settings);
        };

        same(expected.get("centre"), chart.centre(), "centre");
        same(expected.get("lower"), chart.lower(), "lower");
        same(expected.get("upper"), chart.upper(), "upper");
        List<Integer> signals = new ArrayList<>();
        expected.path("signals").forEach(signal -> signals.add(signal.asInt()));
        assertEquals(signals, chart.signals());
        for (int i = 0; i < expected.path("points").size(); i++) {
            JsonNode point = expected.get("points").get(i);
            if (point.has("high")) {
                assertEquals(point.get("high").asDouble(), chart.points().get(i).high().orElseThrow(), 1e-9);
                assertEquals(point.get("low").asDouble(), chart.points().get(i).low().orElseThrow(), 1e-9);
            } else {
                same(point.get("value"), chart.points().get(i).statistic(), "statistic");
                same(point.get("lower"), chart.points().get(i).lower(), "lower");
            }
        }
    }

    private static OptionalDouble optional(JsonNode inputs, String name) {
        return inputs.has(name) ? OptionalDouble.of(inputs.get(name).asDouble()) : OptionalDouble.empty();
    }

    static Stream<Named<JsonNode>> intervals() {
        return cases("rate_interval");
    }

    @ParameterizedTest
    @MethodSource("intervals")
    void poissonInterval(JsonNode one) {
        JsonNode inputs = one.get("inputs");
        if (!(inputs.path("exposure").asDouble() > 0)) {
            return;
        }

        PoissonInterval interval = PoissonInterval.of(inputs.get("events").asDouble(), inputs.get("exposure").asDouble(),
                inputs.path("level").asDouble(0.95));

        same(one.get("expected").get("low"), interval.low(), "low");
        same(one.get("expected").get("high"), interval.high(), "high");
    }

    static Stream<Named<JsonNode>> multiplicities() {
        return cases("multiplicity");
    }

    @ParameterizedTest
    @MethodSource("multiplicities")
    void multiplicity(JsonNode one) {
        double[] p = numbers(one.get("inputs").get("pValues"));

        double[] falseDiscovery = Multiplicity.benjaminiHochberg(p);

        for (int i = 0; i < p.length; i++) {
            same(one.get("expected").get("benjaminiHochberg").get(i), falseDiscovery[i], "Benjamini-Hochberg");
        }
    }

    static Stream<Named<JsonNode>> criticalCounts() {
        return cases("event_trend").filter(named -> named.getPayload().get("expected").has("criticalCounts"));
    }

    /** The largest count of reverse arrangements that is significantly few, by the exact law that gives the p-values. */
    @ParameterizedTest
    @MethodSource("criticalCounts")
    void reverseArrangements_criticalCounts(JsonNode one) {
        for (JsonNode row : one.at("/expected/criticalCounts")) {
            int gaps = row.get("gaps").asInt();
            double level = row.get("oneSidedLevel").asDouble();
            int critical = row.get("lowAtMost").asInt(-1);

            assertTrue(critical < 0 || Inversions.cumulative(gaps, critical) <= level, row.toString());
            assertTrue(Inversions.cumulative(gaps, critical + 1) > level, row.toString());
            assertTrue(critical < 0 || gaps * (gaps - 1) / 2 - critical == row.get("highAtLeast").asInt(), row.toString());
        }
    }
}
