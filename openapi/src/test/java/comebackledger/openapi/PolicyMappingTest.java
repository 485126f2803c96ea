package comebackledger.openapi;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.ledger.RecordedPolicy;
import comebackledger.policy.Policy;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every number of the policy by the contract: its default, the ends of its range, and its refusal one step beyond. */
class PolicyMappingTest {
    private static final JsonNode DEFAULTS = wire(Policy.DEFAULT);
    /** What has to be sent beside a number at one end of its range, because two numbers hold each other. */
    private static final Map<String, String> BESIDE = Map.of("/chargeAir/holdLossShare", "{\"chargeAir\":{\"maxLossShare\":0.0001}}",
            "/readiness/riskHold", "{\"readiness\":{\"riskCaution\":0.0001}}", "/bus/highLowOhm/low", "{\"bus\":{\"highLowOhm\":{\"high\":1000001}}}",
            "/instruments/dischargeCoefficient", "{\"instruments\":{\"dischargeCoefficientUncertainty\":0}}");

    record Number(String pointer, JsonNode schema) {
        @Override
        public String toString() {
            return pointer;
        }
    }

    static Stream<Number> numbers() {
        List<Number> found = new ArrayList<>();
        collect("", Contract.schema("PolicyBody"), found);
        assertTrue(found.size() > 40, "numbers found: " + found);
        return found.stream().filter(number -> !number.pointer.startsWith("/bus/highLowOhm") && !number.pointer.equals("/version"));
    }

    private static void collect(String at, JsonNode schema, List<Number> found) {
        JsonNode meant = schema.has("$ref") ? Contract.DOCUMENT.at(schema.get("$ref").asText().substring(1)) : schema;
        if (List.of("number", "integer").contains(meant.path("type").asText())) {
            found.add(new Number(at, meant));
        }
        meant.path("properties").properties().forEach(member -> collect(at + "/" + member.getKey(), member.getValue(), found));
    }

    private static JsonNode wire(Policy policy) {
        return PolicyMapping.toWire(new RecordedPolicy(policy, 1));
    }

    private static Policy read(JsonNode body) {
        return PolicyMapping.toCore(Json.bytes(body)).decoded();
    }

    @ParameterizedTest
    @MethodSource("numbers")
    void number_leftOut_takesTheDefaultOfTheContract(Number number) {
        boolean always = number.schema.has("default");

        JsonNode shown = wire(read(JsonNodeFactory.instance.objectNode())).at(number.pointer);

        assertEquals(always ? number.schema.get("default").asDouble() : 0, shown.asDouble(), number.pointer);
        assertEquals(!always, shown.isMissingNode(), number.pointer);
    }

    @ParameterizedTest
    @MethodSource("numbers")
    void number_atTheEndsOfItsRange_isKept(Number number) {
        for (String end : List.of("minimum", "maximum")) {
            if (number.schema.has(end)) {
                double value = number.schema.get(end).asDouble();

                JsonNode shown = wire(read(body(number.pointer, value))).at(number.pointer);

                assertEquals(value, shown.asDouble(), number.pointer + " " + end);
            }
        }
    }

    @ParameterizedTest
    @MethodSource("numbers")
    void number_beyondItsRange_isRefusedAtItsPointer(Number number) {
        List<Double> beyond = new ArrayList<>(List.of(Math.nextUp(number.schema.get("maximum").asDouble())));
        beyond.add(number.schema.has("minimum")
                ? Math.nextDown(number.schema.get("minimum").asDouble())
                : number.schema.get("exclusiveMinimum").asDouble());
        for (double value : beyond) {
            Problem problem = assertThrows(Problem.class, () -> read(body(number.pointer, value)));

            assertEquals(Problem.Slug.INVALID_VALUE, problem.slug());
            assertEquals(List.of(number.pointer), problem.faults().stream().map(Fault::pointer).toList(), number.pointer + " " + value);
        }
    }

    private static ObjectNode body(String pointer, double value) {
        ObjectNode body = (ObjectNode) Contract.json(BESIDE.getOrDefault(pointer, "{}"));
        ObjectNode at = body;
        String[] names = pointer.substring(1).split("/");
        for (int i = 0; i < names.length - 1; i++) {
            at = at.withObjectProperty(names[i]);
        }
        at.put(names[names.length - 1], value);
        return body;
    }

    /** What is read from the wire says the same when it is sent back, version and all. */
    @Test
    void policy_sentBackAsRead_isTheSame() {
        Contract.requests().filter(example -> example.schema().equals("PolicyBody")).forEach(example -> {
            Policy policy = read(example.value());

            assertEquals(policy, read(wire(policy)), example.name());
        });
        assertEquals(Policy.DEFAULT, read(DEFAULTS));
    }

    /** The limit above the default drags the one that may not lie below it. */
    @Test
    void number_aboveTheDefaultOfItsUpper_takesTheUpperAlong() {
        assertEquals(0.2, read(Contract.json("{\"chargeAir\":{\"maxLossShare\":0.2}}")).chargeAir().holdLossShare());
        assertEquals(0.8, read(Contract.json("{\"readiness\":{\"riskCaution\":0.8}}")).readiness().riskHold());
    }
}
