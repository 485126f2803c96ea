package comebackledger.openapi.calculation;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
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
import java.util.Objects;
import java.util.function.Function;
import java.util.stream.Stream;

/** The published cases of {@code /air/charge_air.json} and what turns them into bodies of the wire; each names its source. */
final class AirCases {
    private AirCases() {}

    static Stream<JsonNode> of(String... topics) {
        try (InputStream stream = Objects.requireNonNull(AirCases.class.getResourceAsStream("/air/charge_air.json"))) {
            List<JsonNode> cases = new ArrayList<>();
            for (JsonNode node : new ObjectMapper().readTree(stream)) {
                if (List.of(topics).contains(node.get("topic").textValue())) {
                    cases.add(node);
                }
            }
            if (cases.isEmpty()) {
                throw new AssertionError("no case of " + List.of(topics));
            }
            return cases.stream();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static ObjectNode body() {
        return JsonNodeFactory.instance.objectNode();
    }

    static ObjectNode quantity(double value, String unit) {
        return body().put("value", value).put("unit", unit);
    }

    /** An input of a case as a quantity, with the uncertainty that the case states; one it states none of counts as exact. */
    static ObjectNode quantity(JsonNode inputs, String name, String unit) {
        return quantity(inputs.get(name).doubleValue(), unit).put("standardUncertainty",
                inputs.path("standardUncertainty").path(name).asDouble(0));
    }

    static JsonNode answer(Function<Fields, JsonNode> calculation, ObjectNode body) {
        return calculation.apply(Fields.of(Json.object(body.toString().getBytes(StandardCharsets.UTF_8)), new Faults()));
    }

    /** The pointers of the faults, sorted. */
    static List<String> faults(Function<Fields, JsonNode> calculation, ObjectNode body) {
        try {
            answer(calculation, body);
            return List.of();
        } catch (Problem problem) {
            return problem.faults().stream().map(Fault::pointer).sorted().toList();
        }
    }

    /** Within the case's tolerance; where it gives two, either is enough. */
    static void check(JsonNode one, String name, double got) {
        double wanted = one.get("expected").get(name).doubleValue();
        JsonNode tolerance = one.get("tolerance_suggested");
        double slack = Math.max(tolerance.path("relative").asDouble() * Math.abs(wanted), tolerance.path("absolute").asDouble());
        assertEquals(wanted, got, slack, one.get("id").textValue() + " " + name + ": " + one.get("source").textValue());
    }
}
