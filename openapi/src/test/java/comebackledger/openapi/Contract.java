package comebackledger.openapi;

import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.dialect.Dialects;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;

/** The contract as it is served, and its schemas at work. */
final class Contract {
    private static final ObjectMapper JSON = new ObjectMapper();
    static final JsonNode DOCUMENT = read();
    private static final SchemaRegistry AS_WRITTEN = registry(DOCUMENT);
    private static final SchemaRegistry CLOSED = registry(closed(DOCUMENT.deepCopy()));

    private static final Map<String, Schema> SCHEMAS = new ConcurrentHashMap<>();

    private Contract() {}

    /** One example with the schema it stands under; the name tells call, place and example. */
    record Example(String name, String schema, JsonNode value) {
        @Override
        public String toString() {
            return name;
        }
    }

    /** A member that stands twice is an error to some readers of YAML, and one of the two to others. */
    private static JsonNode read() {
        try (InputStream in = Contract.class.getResourceAsStream("/META-INF/openapi.yaml")) {
            return YAMLMapper.builder().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build().readTree(Objects.requireNonNull(in));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static SchemaRegistry registry(JsonNode document) {
        return SchemaRegistry.withDialect(Dialects.getOpenApi31(), builder -> builder.schemas(Map.of("urn:contract", document.toString())));
    }

    /** The same contract with every object closed, so that a member no schema tells of is an error. */
    private static JsonNode closed(JsonNode node) {
        if (node instanceof ObjectNode object && object.path("type").asText().equals("object") && object.has("properties")
                && !object.has("additionalProperties")) {
            object.put("additionalProperties", false);
        }
        node.forEach(Contract::closed);
        return node;
    }

    static JsonNode schema(String name) {
        return DOCUMENT.at("/components/schemas/" + name);
    }

    /** What the schema says against the document, nothing where it fits. */
    static List<String> faults(String schema, JsonNode value) {
        return faults(AS_WRITTEN, "/components/schemas/" + schema, value);
    }

    /** As {@link #faults}, undocumented members included. */
    static List<String> faultsOfClosed(String schema, JsonNode value) {
        return faults(CLOSED, "/components/schemas/" + schema, value);
    }

    private static List<String> faults(SchemaRegistry registry, String pointer, JsonNode value) {
        Schema schema = SCHEMAS.computeIfAbsent((registry == CLOSED ? "closed " : "") + pointer,
                key -> registry.getSchema(SchemaLocation.of("urn:contract#" + pointer)));
        return schema.validate(value.toString(), InputFormat.JSON).stream().map(Error::toString).toList();
    }

    static JsonNode json(String text) {
        try {
            return JSON.readTree(text);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Every operation as method, blank, path. */
    static Map<String, JsonNode> operations() {
        Map<String, JsonNode> found = new java.util.LinkedHashMap<>();
        DOCUMENT.get("paths").properties().forEach(path -> path.getValue().properties().stream()
                .filter(member -> List.of("get", "put", "post", "delete").contains(member.getKey()))
                .forEach(member -> found.put(member.getKey().toUpperCase(java.util.Locale.ROOT) + " " + path.getKey(), member.getValue())));
        return found;
    }

    static Stream<Example> requests() {
        List<Example> found = new ArrayList<>();
        operations().forEach((call, operation) -> examples(call, operation.path("requestBody"), found));
        return found.stream();
    }

    static Stream<Example> answers() {
        List<Example> found = new ArrayList<>();
        operations().forEach((call, operation) -> operation.get("responses").properties()
                .forEach(answer -> examples(call + " " + answer.getKey(), answer.getValue(), found)));
        DOCUMENT.at("/components/responses").properties().forEach(answer -> examples(answer.getKey(), answer.getValue(), found));
        return found.stream();
    }

    private static void examples(String name, JsonNode body, List<Example> found) {
        body.path("content").properties().stream().filter(content -> content.getKey().endsWith("json")).forEach(content -> {
            String schema = content.getValue().at("/schema/$ref").asText().replace("#/components/schemas/", "");
            content.getValue().path("examples").properties()
                    .forEach(example -> found.add(new Example(name + " " + example.getKey(), schema, example.getValue().get("value"))));
        });
    }
}
