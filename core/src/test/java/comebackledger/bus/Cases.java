package comebackledger.bus;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;

/** The published cases, read into the records of this room. */
final class Cases {
    private Cases() {}

    static Stream<JsonNode> of(String file) {
        try (InputStream in = Cases.class.getResourceAsStream("/bus/" + file + ".json")) {
            return StreamSupport.stream(new ObjectMapper().readTree(in).spliterator(), false).toList().stream();
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    static String name(JsonNode testCase) {
        return testCase.get("id").textValue() + " " + testCase.get("topic").textValue() + " [" + testCase.get("source").textValue() + "]";
    }

    static OptionalDouble number(JsonNode node, String field) {
        return node.hasNonNull(field) ? OptionalDouble.of(node.get(field).doubleValue()) : OptionalDouble.empty();
    }

    static Optional<String> text(JsonNode node, String field) {
        return node.hasNonNull(field) ? Optional.of(node.get(field).textValue()) : Optional.empty();
    }

    static Circuit circuit(JsonNode network) {
        List<Circuit.Terminator> terminators = new ArrayList<>();
        for (JsonNode terminator : network.path("terminators")) {
            String name = "terminator-" + (char) ('a' + terminators.size());
            terminators.add(new Circuit.Terminator(name, number(terminator, "atMetres"), terminator.get("ohm").doubleValue(),
                    text(terminator, "inside"), terminator.path("split").asBoolean()));
        }
        List<Circuit.Node> nodes = new ArrayList<>();
        for (JsonNode node : network.path("nodes")) {
            nodes.add(new Circuit.Node(node.get("module").textValue(), number(node, "atMetres"), number(node, "stubMetres"),
                    number(node, "differentialOhm"), number(node, "lineToGroundOhm"), number(node, "biasVolt"), number(node, "biasOhm")));
        }
        Optional<Circuit.Connector> connector = network.has("connector")
                ? Optional.of(new Circuit.Connector(number(network.get("connector"), "atMetres"), number(network.get("connector"), "stubMetres")))
                : Optional.empty();
        return new Circuit(text(network, "name").orElse("trunk"), number(network, "trunkMetres"), number(network, "wireOhmPerMetre"),
                terminators.isEmpty() ? Optional.empty() : Optional.of(terminators), Optional.of(nodes), connector,
                number(network, "supplyToGroundOhm"), OptionalDouble.empty());
    }

    static List<Fault> faults(JsonNode list) {
        List<Fault> faults = new ArrayList<>();
        for (JsonNode fault : list) {
            Optional<Line> line = text(fault, "line").map(word -> Line.valueOf(word.toUpperCase(java.util.Locale.ROOT)));
            faults.add(new Fault(FaultKind.ofWord(fault.get("kind").textValue()).orElseThrow(),
                    text(fault, "terminator").or(() -> text(fault, "module")), line, number(fault, "ohm"), number(fault, "atMetres"), List.of()));
        }
        return faults;
    }

    /** The case's own tolerance: either bound is enough. */
    static double tolerance(JsonNode testCase, double expected) {
        JsonNode suggested = testCase.get("tolerance_suggested");
        return Math.max(suggested.path("relative").asDouble(0) * Math.abs(expected), suggested.path("absolute").asDouble(0));
    }
}
