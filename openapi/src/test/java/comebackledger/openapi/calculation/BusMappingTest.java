package comebackledger.openapi.calculation;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
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
import java.util.Objects;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The published cases of {@code /bus/*.json} through the shape of the wire; each names its source. */
class BusMappingTest {
    private static final ObjectMapper MAPPER = new ObjectMapper();

    private static Fields fields(JsonNode body) {
        return Fields.of(Json.object(body.toString().getBytes(StandardCharsets.UTF_8)), new Faults());
    }

    private static Stream<JsonNode> cases(String file) {
        try (InputStream stream = Objects.requireNonNull(BusMappingTest.class.getResourceAsStream("/bus/" + file + ".json"))) {
            List<JsonNode> cases = new ArrayList<>();
            MAPPER.readTree(stream).forEach(cases::add);
            return cases.stream();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static Stream<JsonNode> readings() {
        return Stream.concat(cases("can_resistance"), cases("can_voltage").filter(one -> one.get("inputs").has("network")));
    }

    private static ObjectNode quantity(JsonNode value, String unit) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        return value.isTextual() ? node.put("overRange", true).put("unit", "Mohm") : node.put("value", value.doubleValue()).put("unit", unit);
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("readings")
    void busReadings_agreeWithThePublishedOnes(JsonNode one) {
        JsonNode inputs = one.get("inputs");
        ObjectNode body = JsonNodeFactory.instance.objectNode();
        body.set("network", inputs.get("network"));
        body.put("power", inputs.has("supplyVolt") ? "on" : "off");
        if (inputs.has("supplyVolt")) {
            body.set("supplyVoltage", quantity(inputs.get("supplyVolt"), "V"));
        }
        if (inputs.has("meter")) {
            body.set("leadResistance", quantity(inputs.at("/meter/leadOhm"), "ohm"));
        }
        ArrayNode faults = body.putArray("faults");
        for (JsonNode fault : inputs.get("faults")) {
            ObjectNode copy = fault.deepCopy();
            copy.set("fault", copy.remove("kind"));
            if (copy.has("ohm") && copy.get("ohm").isNull()) {
                copy.remove("ohm");
            }
            faults.add(copy);
        }

        JsonNode answer = BusReadingsMapping.answer(fields(body));

        one.get("expected").fields().forEachRemaining(entry -> {
            String what = one.get("id").asText() + " " + entry.getKey() + ": " + one.get("source").asText();
            if (entry.getKey().equals("differenceVolt")) {
                assertEquals(entry.getValue().doubleValue(), answer.get("highVolt").doubleValue() - answer.get("lowVolt").doubleValue(), 0.02, what);
            } else if (entry.getValue().isTextual()) {
                assertEquals("open", answer.get(entry.getKey()).asText(), what);
            } else {
                JsonNode suggested = one.get("tolerance_suggested");
                double expected = entry.getValue().doubleValue();
                double allowed = Math.max(suggested.path("relative").asDouble() * Math.abs(expected), suggested.path("absolute").asDouble());
                assertEquals(expected, answer.get(entry.getKey()).doubleValue(), allowed, what);
            }
        });
    }

    static Stream<JsonNode> reasoning() {
        return cases("network_reasoning");
    }

    private static ObjectNode network(JsonNode network) {
        ObjectNode wire = JsonNodeFactory.instance.objectNode().put("name", network.get("name").asText());
        ArrayNode nodes = wire.putArray("nodes");
        int count = network.get("order").size();
        wire.put("trunkMetres", count + 1);
        for (int i = 0; i < count; i++) {
            String module = network.get("order").get(i).asText();
            nodes.addObject().put("module", module).put("atMetres", i + 1);
            if (module.equals(network.path("connectorAfter").asText())) {
                wire.putObject("connector").put("atMetres", i + 1.5);
            }
        }
        ArrayNode terminators = wire.putArray("terminators");
        for (String name : List.of("terminator-a", "terminator-b")) {
            ObjectNode terminator = terminators.addObject().put("name", name).put("ohm", 120);
            if (network.get("terminatorInside").has(name)) {
                terminator.put("inside", network.get("terminatorInside").get(name).asText());
            } else {
                terminator.put("atMetres", name.endsWith("a") ? 0 : count + 1);
            }
        }
        return wire;
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("reasoning")
    void busCheck_ranksAsArgued(JsonNode one) {
        JsonNode inputs = one.get("inputs");
        ObjectNode body = JsonNodeFactory.instance.objectNode();
        body.set("network", network(inputs.get("network")));
        JsonNode readings = inputs.path("readings");
        body.put("power", readings.path("power").asText("off"));
        readings.properties().forEach(entry -> {
            switch (entry.getKey()) {
                case "highVolt", "lowVolt" -> body.set(entry.getKey() + "age", quantity(entry.getValue(), "V"));
                case "power" -> {}
                default -> body.set(entry.getKey().replace("Ohm", ""), quantity(entry.getValue(), "ohm"));
            }
        });
        if (inputs.has("supplyVolt")) {
            body.set("supplyVoltage", quantity(inputs.get("supplyVolt"), "V"));
        }
        body.set("rollCall", inputs.get("rollCall"));
        body.set("codes", codes(inputs.get("codes")));

        JsonNode answer = BusCheckMapping.answer(fields(body));

        JsonNode first = one.at("/expected/first");
        for (int i = 0; i < first.size(); i++) {
            JsonNode suspect = answer.at("/suspects/" + i);
            boolean fits = false;
            for (JsonNode entry : first) {
                fits |= (!entry.has("kind") || entry.get("kind").equals(suspect.get("fault")))
                        && (!entry.has("place") || entry.get("place").equals(suspect.get("place")))
                        && (!entry.has("between") || entry.get("between").equals(suspect.get("between")));
            }
            assertTrue(fits, one.get("id").asText() + " " + one.get("source").asText() + "\n" + suspect.toPrettyString());
        }
        double sum = 0;
        for (JsonNode suspect : answer.get("suspects")) {
            sum += suspect.get("probability").doubleValue();
        }
        assertEquals(1, sum, 1e-9);
        assertEquals(one.at("/expected/verdict").asText(answer.get("verdict").asText()), answer.get("verdict").asText());
    }

    private static ArrayNode codes(JsonNode codes) {
        ArrayNode wire = JsonNodeFactory.instance.arrayNode();
        for (JsonNode code : codes) {
            ObjectNode copy = code.deepCopy();
            JsonNode failureType = copy.remove("failureType");
            if (failureType != null) {
                copy.put("code", copy.get("code").asText() + "-" + failureType.asText());
            }
            wire.add(copy);
        }
        return wire;
    }

    @Test
    void busCheck_withTestsDone_weighsThem() throws IOException {
        JsonNode before = BusCheckMapping.answer(fields(MAPPER.readTree("""
                {"power": "off", "highLow": {"value": 120.1, "unit": "ohm"}}""")));
        JsonNode after = BusCheckMapping.answer(fields(MAPPER.readTree(
                """
                {"power": "off", "highLow": {"value": 120.1, "unit": "ohm"},
                 "done": [{"test": "terminator-out", "place": "network.network.terminator-a", "result": {"part": {"overRange": true, "unit": "Mohm"}}}]}""")));

        assertTrue(before.at("/suspects/0/probability").doubleValue() < 0.6, before.toPrettyString());
        assertEquals("terminator-missing", after.at("/suspects/0/fault").asText(), after.toPrettyString());
        assertEquals("network.network.terminator-a", after.at("/suspects/0/place").asText());
        assertTrue(after.at("/suspects/0/probability").doubleValue() > 0.8, after.toPrettyString());
    }

    @Test
    void busReadings_whenTheFaultNamesNoPart_refusesWithItsPointer() throws IOException {
        Fields body = fields(MAPPER.readTree("""
                {"network": {"name": "j1939-1"}, "power": "off", "faults": [{"fault": "module-stub", "module": "brakes"}]}"""));

        Problem problem = assertThrows(Problem.class, () -> BusReadingsMapping.answer(body));

        assertEquals("/faults", problem.faults().getFirst().pointer());
    }
}
