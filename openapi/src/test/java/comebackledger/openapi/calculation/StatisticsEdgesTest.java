package comebackledger.openapi.calculation;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Faults;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Json;
import comebackledger.openapi.Problem;
import java.util.Arrays;
import java.util.SplittableRandom;
import java.util.function.Function;
import java.util.function.IntFunction;
import java.util.stream.Stream;
import org.junit.jupiter.api.Named;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Bodies of few entries at the hard edges: none, one, all tied, zeros, the smallest and the largest numbers. Each is refused with its faults, or answered with
 * numbers that are numbers, probabilities from 0 to 1 and limits in order; nothing else ever leaves, least of all an exception of a library.
 */
class StatisticsEdgesTest {
    private static final long SEED = 20_261_125L;
    private static final JsonNodeFactory MAKE = JsonNodeFactory.instance;
    private static final double[] HARD = {0, 0, 1, 1, 2, 3, 0.1, 1.0 / 3, 1e-300, 4.9e-324, 1e-9, 1 + 1e-15, 1e9, 1e15, 1e30, 9.99e29};

    private final SplittableRandom random = new SplittableRandom(SEED);

    private interface Body {
        ObjectNode make(StatisticsEdgesTest edges);
    }

    static Stream<Arguments> calculations() {
        return Stream.of(
                calculation("event-trend", EventTrendMapping::answer, StatisticsEdgesTest::eventTrend),
                calculation("mean-cumulative", MeanCumulativeMapping::answer, edges -> body("units", edges.list(5, i -> {
                    ObjectNode unit = MAKE.objectNode().put("observedUntil", edges.hard());
                    unit.set("events", edges.list(4, j -> MAKE.numberNode(edges.hard() * Math.min(1, unit.get("observedUntil").asDouble() / 1e30))));
                    return unit;
                }))),
                calculation("reading-trend", ReadingTrendMapping::answer, edges -> body("points", edges.list(9,
                        i -> MAKE.objectNode().put("at", edges.signed()).put("value", edges.signed()))).put("high", edges.signed())),
                calculation("rate-comparison", RateComparisonMapping::answer, edges -> body("units", edges.list(6, i -> {
                    double exposure = edges.hard();
                    return MAKE.objectNode().put("id", "u" + i).put("events", exposure == 0 ? 0 : (long) (edges.hard() % 1e6)).put("exposure",
                            exposure);
                })).put("factor", 0.5 + edges.random.nextDouble()).put("worstShare", 0.01 + 0.9 * edges.random.nextDouble())),
                calculation("repair-hold", RepairHoldMapping::answer, edges -> body("repairs", edges.repairs())),
                calculation("hold-comparison", HoldComparisonMapping::answer,
                        edges -> body("groups", edges.list(5, i -> body("repairs", edges.repairs()).put("id", "g" + i)))),
                calculation("control-chart", ControlChartMapping::answer, StatisticsEdgesTest::controlChart));
    }

    private static Arguments calculation(String name, Function<Fields, JsonNode> answer, Body body) {
        return Arguments.of(Named.of(name, answer), body);
    }

    private ObjectNode eventTrend() {
        double[] times = random.doubles(random.nextInt(8)).map(any -> hard()).toArray();
        double last = Arrays.stream(times).max().orElse(0);
        ObjectNode body = body("eventTimes", list(times));
        return random.nextBoolean() ? body.put("truncation", "event") : body.put("truncation", "time").put("observedUntil", Math.max(last, hard()));
    }

    private ObjectNode controlChart() {
        String chart = new String[]{"individuals", "ewma", "cusum"}[random.nextInt(3)];
        ObjectNode body = body("values", list(9, i -> MAKE.numberNode(signed()))).put("chart", chart);
        if (random.nextBoolean()) {
            body.put("target", signed());
        }
        if (random.nextBoolean()) {
            body.put("sigma", hard());
        }
        if (random.nextBoolean()) {
            body.set("baseline", list(4, i -> MAKE.numberNode(signed())));
        }
        return body;
    }

    private static ObjectNode body(String list, JsonNode entries) {
        return MAKE.objectNode().set(list, entries);
    }

    private ArrayNode repairs() {
        return list(7, i -> MAKE.objectNode().put("held", hard()).put("returned", random.nextInt(3) > 0));
    }

    private ArrayNode list(int most, IntFunction<JsonNode> entry) {
        ArrayNode list = MAKE.arrayNode();
        int size = random.nextInt(most + 1);
        for (int i = 0; i < size; i++) {
            list.add(entry.apply(i));
        }
        return list;
    }

    private static ArrayNode list(double[] numbers) {
        ArrayNode list = MAKE.arrayNode();
        Arrays.stream(numbers).forEach(list::add);
        return list;
    }

    private double hard() {
        return HARD[random.nextInt(HARD.length)];
    }

    private double signed() {
        return random.nextBoolean() ? hard() : -hard();
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("calculations")
    void everyBody_isAnsweredOrRefused(Function<Fields, JsonNode> calculation, Body body) {
        assertSound(calculation, body, 300);
    }

    @Tag("long")
    @ParameterizedTest(name = "{0}")
    @MethodSource("calculations")
    void everyBodyOfMany_isAnsweredOrRefused(Function<Fields, JsonNode> calculation, Body body) {
        assertSound(calculation, body, 20_000);
    }

    private void assertSound(Function<Fields, JsonNode> calculation, Body body, int bodies) {
        int answered = 0;
        for (int i = 0; i < bodies; i++) {
            ObjectNode one = body.make(this);
            try {
                sound(calculation.apply(Fields.of(Json.object(Json.bytes(one)), new Faults())), one.toString());
                answered++;
            } catch (Problem problem) {
                assertEquals(422, problem.slug().status());
                assertFalse(problem.faults().isEmpty());
            } catch (RuntimeException e) {
                throw new AssertionError("seed " + SEED + ", body " + one, e);
            }
        }
        assertTrue(answered > bodies / 2, "most bodies must go through, " + answered + " did");
    }

    private static void sound(JsonNode node, String body) {
        assertFalse(node.isNull(), body);
        assertTrue(!node.isNumber() || Double.isFinite(node.asDouble()), body);
        for (String share : new String[]{"pValue", "qValue", "probabilityAbove", "probabilityWorst", "holding"}) {
            assertTrue(!node.has(share) || node.get(share).asDouble() >= 0 && node.get(share).asDouble() <= 1, share + " of " + body);
        }
        ordered(node, "low", "mean", body);
        ordered(node, "mean", "high", body);
        ordered(node, "low", "holding", body);
        ordered(node, "holding", "high", body);
        ordered(node, "slopeLow", "slope", body);
        ordered(node, "slope", "slopeHigh", body);
        ordered(node, "crudeLow", "crude", body);
        ordered(node, "crude", "crudeHigh", body);
        ordered(node, "shapeLow", "shapeHigh", body);
        ordered(node, "lower", "upper", body);
        ordered(node, "medianLow", "median", body);
        ordered(node, "median", "medianHigh", body);
        node.forEach(child -> sound(child, body));
    }

    private static void ordered(JsonNode node, String low, String high, String body) {
        if (node.path(low).isNumber() && node.path(high).isNumber()) {
            double above = node.get(high).asDouble();
            assertTrue(node.get(low).asDouble() <= above + 1e-12 * Math.abs(above) + 1e-300, low + " above " + high + " in " + node + " of " + body);
        }
    }
}
