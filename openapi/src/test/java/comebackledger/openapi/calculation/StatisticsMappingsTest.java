package comebackledger.openapi.calculation;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Fault;
import comebackledger.openapi.Faults;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Json;
import comebackledger.openapi.Problem;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Named;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The published cases of {@code /stat/*.json} through the shape of the wire, each with its source; conventions in {@code /stat/conventions.json}. Every figure
 * that a case names is compared, relative 1e-9 unless {@link #relative} says why not; what a case leaves undefined must be left out.
 */
class StatisticsMappingsTest {
    private static final ObjectMapper MAPPER = new ObjectMapper();
    private static final Map<String, Function<Fields, JsonNode>> BY_FILE = Map.of(
            "event_trend", EventTrendMapping::answer,
            "mean_cumulative", MeanCumulativeMapping::answer,
            "reading_trend", ReadingTrendMapping::answer,
            "rate_comparison", RateComparisonMapping::answer,
            "repair_hold", RepairHoldMapping::answer,
            "hold_comparison", HoldComparisonMapping::answer,
            "control_chart", ControlChartMapping::answer);

    /** Figures of the cases that the wire does not carry: checks for core, other conventions named for contrast. */
    private static final Set<String> NOT_ON_THE_WIRE = Set.of("intensityAtEnd", "lambda", "lowPlain", "highPlain", "lowLog", "highLog",
            "poissonStandardError", "varianceS", "z", "pValueNormal", "pValueExact", "pairs", "interceptConover", "interceptHodgesLehmann",
            "confidenceLevel", "priorLogLikelihood", "priorMoments", "factor", "movingRangeMean", "movingRangeUpper");

    private static JsonNode answer(String file, JsonNode body) {
        return Objects.requireNonNull(BY_FILE.get(file))
                .apply(Fields.of(Json.object(body.toString().getBytes(StandardCharsets.UTF_8)), new Faults()));
    }

    private static List<Fault> refused(String file, JsonNode body) {
        return assertThrows(Problem.class, () -> answer(file, body)).faults();
    }

    private static JsonNode json(String text) {
        try {
            return MAPPER.readTree(text.replace('\'', '"'));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Stream<JsonNode> cases(String file) {
        try (InputStream in = StatisticsMappingsTest.class.getResourceAsStream("/stat/" + file + ".json")) {
            return StreamSupport.stream(MAPPER.readTree(in).spliterator(), false);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Stream<Arguments> cases(boolean refused) {
        return BY_FILE.keySet().stream().sorted().flatMap(file -> cases(file).filter(StatisticsMappingsTest::isOnTheWire)
                .filter(one -> isRefused(one) == refused)
                .map(one -> Arguments.of(file, Named.of(one.get("id").asText() + ": " + one.get("source").asText(), one))));
    }

    private static boolean isRefused(JsonNode one) {
        return one.get("expected").has("error");
    }

    /** Not: whole populations given by a rule (built below), constants and tables that only core knows. */
    private static boolean isOnTheWire(JsonNode one) {
        return !one.get("inputs").has("generator")
                && !Set.of("ST-ET-21", "ST-CC-04").contains(one.get("id").asText());
    }

    static Stream<Arguments> answered() {
        return cases(false);
    }

    static Stream<Arguments> faulty() {
        return cases(true);
    }

    @ParameterizedTest(name = "{1}")
    @MethodSource("answered")
    void answer_isThePublishedOne(String file, JsonNode one) {
        JsonNode answer = answer(file, body(file, one));

        JsonNode expected = one.get("expected");
        if (expected.has("undefined")) {
            assertFalse(answer.path("undefined").asText().isEmpty(), "a reason");
            List.of("powerLaw", "slope", "chiSquare", "pValue", "lower", "upper", "signals").forEach(name -> assertFalse(answer.has(name), name));
        } else {
            same(expectedOnWire(file, one), answer, "");
        }
    }

    /** The case's inputs as WIRE spells them. */
    private static ObjectNode body(String file, JsonNode one) {
        ObjectNode body = one.get("inputs").deepCopy();
        if (one.get("expected").path("confidenceLevel").isNumber()) {
            body.set("confidenceLevel", one.get("expected").get("confidenceLevel"));
        }
        if (file.equals("hold_comparison")) {
            for (int i = 0; i < body.get("groups").size(); i++) {
                ((ObjectNode) body.get("groups").get(i)).put("id", "group " + i);
            }
        }
        if (body.path("baseline").isInt()) { // the first so many values
            ArrayNode baseline = MAPPER.createArrayNode();
            StreamSupport.stream(body.get("values").spliterator(), false).limit(body.get("baseline").asInt()).forEach(baseline::add);
            body.set("baseline", baseline);
        }
        return body;
    }

    private static JsonNode expectedOnWire(String file, JsonNode one) {
        ObjectNode expected = one.get("expected").deepCopy();
        switch (file) {
            case "hold_comparison" -> {
                expected.set("chiSquare", expected.remove("statistic"));
                ArrayNode groups = expected.putArray("groups");
                for (int i = 0; i < expected.get("observed").size(); i++) {
                    groups.addObject().put("id", "group " + i).<ObjectNode>set("observed", expected.get("observed").get(i))
                            .set("expected", expected.get("expected").get(i));
                }
                expected.remove(List.of("observed", "expected"));
            }
            case "reading_trend" -> {
                if (expected.has("crossing")) {
                    JsonNode at = expected.remove("crossing");
                    expected.putObject("crossing").set("at", at);
                }
            }
            case "rate_comparison" -> {
                if (expected.findValue("posteriorMeanEqualsPriorMean") != null) {
                    expected.remove("units"); // ST-RC-05 tells of its first unit only: see unitWithoutExposure_takesThePrior
                }
            }
            case "control_chart" -> {
                if (one.at("/inputs/chart").asText().equals("ewma")) {
                    expected.path("points").forEach(point -> ((ObjectNode) point).set("statistic", ((ObjectNode) point).remove("value")));
                }
            }
            default -> { // spelled alike
            }
        }
        return expected;
    }

    private static void same(JsonNode expected, JsonNode actual, String at) {
        if (expected.isNull() || expected.has("undefined")) {
            assertTrue(actual.isMissingNode(), at + " must be left out");
        } else if (expected.isObject()) {
            for (Map.Entry<String, JsonNode> member : expected.properties()) {
                if (!NOT_ON_THE_WIRE.contains(member.getKey())) {
                    same(member.getValue(), actual.path(member.getKey()), at + "/" + member.getKey());
                }
            }
        } else if (expected.isArray()) {
            assertEquals(expected.size(), actual.size(), at + " entries");
            for (int i = 0; i < expected.size(); i++) {
                same(expected.get(i), actual.path(i), at + "/" + i);
            }
        } else if (expected.isNumber()) {
            assertTrue(actual.isNumber(), at + " must be a number, was " + actual);
            assertEquals(expected.asDouble(), actual.asDouble(), relative(at) * Math.abs(expected.asDouble()) + 1e-11, at);
        } else {
            assertEquals(expected, actual, at);
        }
    }

    /**
     * 1e-6: the prior's likelihood has a flat top, and what follows from it is known no better. So are the file's limits of the mean between events: the first of
     * ST-ET-02 stands there as 141.124387; the double integral by arbitrary precision (mpmath, 20 digits) gives 141.1243100447, as we do.
     */
    private static double relative(String at) {
        return at.matches("/prior/.*|/units/\\d+/(posteriorMean|low|high|probabilityAbove)|.*AtEnd(Low|High)") ? 1e-6 : 1e-9;
    }

    @ParameterizedTest(name = "{1}")
    @MethodSource("faulty")
    void faultyCase_isRefusedWithItsPointer(String file, JsonNode one) {
        Map<String, List<String>> pointers = Map.of("ST-ET-15", List.of("/eventTimes/0"), "ST-ET-16", List.of("/eventTimes/1"), "ST-ET-17",
                List.of("/observedUntil"), "ST-MC-06", List.of("/units/0/events/1"), "ST-MC-07", List.of("/units"), "ST-RC-06",
                List.of("/units/0/exposure"), "ST-RC-08", List.of("/units/0/events", "/units/1/events", "/units/2/exposure"), "ST-RH-10",
                List.of("/repairs/0/held"), "ST-CC-07", List.of("/weight"));

        List<Fault> faults = refused(file, body(file, one));

        assertEquals(pointers.get(one.get("id").asText()), faults.stream().map(Fault::pointer).toList(), one.get("id").asText());
    }

    @ParameterizedTest(name = "{0} {1}")
    @CsvSource(delimiter = '|', value = {
            "event_trend|{}|/eventTimes /truncation", "event_trend|{'eventTimes': 5, 'truncation': 'time'}|/eventTimes /observedUntil",
            "event_trend|{'eventTimes': [1, '2'], 'truncation': 'sometimes', 'observedUntil': 3}|/eventTimes/1 /truncation",
            "event_trend|{'eventTimes': [1, 2], 'truncation': 'event', 'observedUntil': 3}|/observedUntil",
            "event_trend|{'eventTimes': [1, 2], 'truncation': 'event', 'observedUntil': 1}|/eventTimes/1",
            "mean_cumulative|{}|/units", "mean_cumulative|{'units': [{}]}|/units/0/events /units/0/observedUntil",
            "mean_cumulative|{'units': [{'events': [], 'observedUntil': 1}], 'confidenceLevel': 1}|/confidenceLevel",
            "mean_cumulative|{'units': [{'events': [], 'observedUntil': 1}], 'confidenceLevel': 95}|/confidenceLevel",
            "reading_trend|{}|/points", "reading_trend|{'points': [{'at': 1}]}|/points/0/value",
            "reading_trend|{'points': [], 'low': 5, 'high': 5}|/high", "reading_trend|{'points': [3]}|/points/0",
            "rate_comparison|{'units': []}|/units", "rate_comparison|{}|/units",
            "rate_comparison|{'units': [{'id': 'a', 'events': 1, 'exposure': 1}, {'id': 'a', 'events': 1, 'exposure': 1}]}|/units/1/id",
            "rate_comparison|{'units': [{'id': 'a', 'events': 1, 'exposure': 1}], 'factor': 0, 'worstShare': 1}|/factor /worstShare",
            "rate_comparison|{'units': [{'events': 1}]}|/units/0/id /units/0/exposure",
            "repair_hold|{}|/repairs", "repair_hold|{'repairs': [{'held': 1, 'returned': 'no'}]}|/repairs/0/returned",
            "hold_comparison|{}|/groups", "hold_comparison|{'groups': [{'id': 'a'}]}|/groups/0/repairs",
            "hold_comparison|{'groups': [{'id': 'a', 'repairs': []}, {'id': 'a', 'repairs': []}]}|/groups/1/id",
            "control_chart|{}|/chart /values", "control_chart|{'chart': 'individuals', 'values': [1, 2], 'weight': 0.2}|/weight",
            "control_chart|{'chart': 'cusum', 'values': [1, 2], 'limit': 3, 'decision': 0}|/decision /limit",
            "control_chart|{'chart': 'ewma', 'values': [1, 2], 'sigma': -1, 'slack': 1, 'more': 1}|/sigma /slack /more"})
    void everyFault_isToldAtOnce(String file, String body, String pointers) {
        assertEquals(List.of(pointers.split(" ")), refused(file, json(body)).stream().map(Fault::pointer).toList());
    }

    /** One more than the limit is refused by name, and nothing else is said. */
    @Test
    void size_isLimited() {
        ArrayNode many = MAPPER.createArrayNode();
        for (int i = 0; i <= Figures.ENTRIES_AT_MOST; i++) {
            many.add(1);
        }
        ObjectNode body = MAPPER.createObjectNode().put("truncation", "time").put("observedUntil", 5);
        body.set("eventTimes", many);

        assertEquals(List.of("/eventTimes"), refused("event_trend", body).stream().map(Fault::pointer).toList());
        many.remove(0);
        assertTrue(answer("event_trend", body).has("powerLaw"));
    }

    private static ObjectNode generated(String list, int from, int to, Function<Integer, JsonNode> entry) {
        ArrayNode array = MAPPER.createArrayNode();
        for (int i = from; i <= to; i++) {
            array.add(entry.apply(i));
        }
        return MAPPER.createObjectNode().set(list, array);
    }

    private static JsonNode expected(String file, String id) {
        return cases(file).filter(one -> one.get("id").asText().equals(id)).findFirst().orElseThrow().get("expected");
    }

    @Test
    void hundredThousandEvents_stET19() {
        ObjectNode body = generated("eventTimes", 1, 100_000, i -> MAPPER.getNodeFactory().numberNode(i));
        body.put("observedUntil", 100_000.5).put("truncation", "time");

        JsonNode answer = answer("event_trend", body);

        same(expected("event_trend", "ST-ET-19"), answer, "");
        assertEquals(0, answer.at("/reverseArrangements/count").asInt(), "all gaps are tied");
    }

    /** Relative 1e-6: the statistic's own last digits are worth so much in its tail. */
    @Test
    void extremeTail_keepsItsDigits_stET20() {
        ObjectNode body = generated("eventTimes", 1, 456, i -> MAPPER.getNodeFactory().numberNode(1000 - 0.01 * i / 457));
        body.put("observedUntil", 1000).put("truncation", "time");

        JsonNode answer = answer("event_trend", body);

        assertEquals(36.98611415297368, answer.at("/laplace/statistic").asDouble(), 1e-9 * 37);
        assertEquals(1.9146965633203939e-299, answer.at("/laplace/pValue").asDouble(), 1e-6 * 1.9e-299);
    }

    @Test
    void hundredThousandEventsOfThousandUnits_stMC09() {
        ObjectNode body = generated("units", 1, 1000, u -> {
            ObjectNode unit = MAPPER.createObjectNode().put("observedUntil", 100);
            ArrayNode events = unit.putArray("events");
            for (int j = 0; j < 100; j++) {
                events.add(j + u / 2000.0);
            }
            return unit;
        });

        JsonNode points = answer("mean_cumulative", body).get("points");

        assertEquals(100_000, points.size());
        JsonNode last = points.get(99_999);
        assertEquals(99.5, last.get("at").asDouble());
        assertEquals(100, last.get("mean").asDouble(), 1e-9);
        assertEquals(0, last.get("standardError").asDouble(), 1e-9);
        assertEquals(100, last.get("low").asDouble(), 1e-7);
    }

    @Test
    void hundredThousandReadings_stMK13() {
        ObjectNode body = generated("points", 1, 100_000, i -> MAPPER.createObjectNode().put("at", i).put("value", 60 + 0.001 * i));

        JsonNode answer = answer("reading_trend", body);

        assertEquals(4_999_950_000L, answer.get("kendallS").asLong());
        assertEquals(1, answer.get("tau").asDouble(), 1e-12);
        assertEquals(0.001, answer.get("slope").asDouble(), 1e-12);
    }

    @Test
    void hundredThousandRepairs_stRH13() {
        ObjectNode body = generated("repairs", 1, 100_000, i -> MAPPER.createObjectNode().put("held", i).put("returned", i % 2 == 0));

        JsonNode points = answer("repair_hold", body).get("points");

        JsonNode middle = StreamSupport.stream(points.spliterator(), false).filter(point -> point.get("at").asDouble() == 50_000).findFirst()
                .orElseThrow();
        assertEquals(0.7071050134218059, middle.get("holding").asDouble(), 1e-9);
        assertEquals(0.0015811467357091664, middle.get("standardError").asDouble(), 1e-12);
    }

    /** A reason stands beside whatever is left out, and never a figure that is not one. */
    @ParameterizedTest(name = "{0} {1}")
    @CsvSource(delimiter = '|', value = {
            "event_trend|{'eventTimes': [], 'truncation': 'event'}|laplace powerLaw",
            "event_trend|{'eventTimes': [0], 'truncation': 'time', 'observedUntil': 0}|laplace powerLaw",
            "event_trend|{'eventTimes': [0, 0, 0], 'truncation': 'time', 'observedUntil': 10}|militaryHandbook powerLaw",
            "event_trend|{'eventTimes': [7, 7], 'truncation': 'event'}|powerLaw",
            "event_trend|{'eventTimes': [1e-300, 1], 'truncation': 'event'}|nothing",
            "mean_cumulative|{'units': [{'events': [1, 2], 'observedUntil': 3}]}|standardError",
            "reading_trend|{'points': []}|slope kendallS pValue",
            "reading_trend|{'points': [{'at': 1, 'value': 5}, {'at': 2, 'value': 5}], 'high': 9}|tau crossing slopeLow slopeHigh",
            "reading_trend|{'points': [{'at': 1, 'value': 5}, {'at': 2, 'value': 4}], 'high': 9}|crossing",
            "reading_trend|{'points': [{'at': -1e30, 'value': 1e30}, {'at': 1e-300, 'value': -1e30}, {'at': 0, 'value': 1e-300}]}|nothing",
            "repair_hold|{'repairs': []}|median", "repair_hold|{'repairs': [{'held': 4, 'returned': false}]}|median",
            "hold_comparison|{'groups': []}|chiSquare pValue degreesOfFreedom",
            "hold_comparison|{'groups': [{'id': 'a', 'repairs': [{'held': 4, 'returned': true}]}]}|chiSquare pValue",
            "hold_comparison|{'groups': [{'id': 'a', 'repairs': []}, {'id': 'b', 'repairs': [{'held': 4, 'returned': true}]}]}|chiSquare pValue",
            "control_chart|{'chart': 'ewma', 'values': []}|centre sigma lower points signals",
            "control_chart|{'chart': 'cusum', 'values': [4], 'target': 3}|sigma points signals",
            "control_chart|{'chart': 'individuals', 'values': [4, 5], 'baseline': [4]}|sigma points signals"})
    void whatTheoryDoesNotGive_isLeftOutWithAReason(String file, String body, String absent) {
        JsonNode answer = answer(file, json(body));

        assertFalse(answer.path("undefined").asText().isEmpty() && !absent.equals("nothing"), "a reason in " + answer);
        for (String name : absent.split(" ")) {
            assertTrue(answer.findValues(name).isEmpty(), name + " in " + answer);
        }
        assertNoMoreThanNumbers(answer);
    }

    private static void assertNoMoreThanNumbers(JsonNode node) {
        if (node.isNumber()) {
            assertTrue(Double.isFinite(node.asDouble()), "not finite");
        }
        assertFalse(node.isNull(), "null");
        node.forEach(StatisticsMappingsTest::assertNoMoreThanNumbers);
    }

    @Test
    void cusumWithItsOwnLimits_needsNoScatter() {
        JsonNode answer = answer("control_chart", json("{'chart': 'cusum', 'values': [4], 'target': 3, 'slack': 0, 'decision': 0.5}"));

        assertEquals(List.of(1), ints(answer.get("signals")));
        assertFalse(answer.has("sigma"));
        assertFalse(answer.has("undefined"));
    }

    private static List<Integer> ints(JsonNode list) {
        List<Integer> numbers = new ArrayList<>();
        list.forEach(number -> numbers.add(number.asInt()));
        return numbers;
    }

    /** Equal rates are no sign of anything, and the unit without exposure takes what its peers teach. */
    @Test
    void unitWithoutExposure_takesThePrior() {
        JsonNode answer = answer("rate_comparison",
                json("{'units': [{'id': 'a', 'events': 0, 'exposure': 0}, {'id': 'b', 'events': 1, 'exposure': 10},"
                        + " {'id': 'c', 'events': 9, 'exposure': 10}]}"));

        JsonNode unit = answer.get("units").get(0);
        assertEquals(answer.at("/prior/shape").asDouble() / answer.at("/prior/rate").asDouble(), unit.get("posteriorMean").asDouble(), 1e-9);
        assertFalse(unit.has("crude") || unit.has("pValue") || unit.has("qValue"), unit.toString());
        assertTrue(unit.has("undefined") && unit.has("probabilityWorst"), unit.toString());
    }
}
