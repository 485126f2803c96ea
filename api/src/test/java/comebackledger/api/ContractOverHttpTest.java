package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.dataformat.yaml.YAMLMapper;
import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaLocation;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.dialect.Dialects;
import comebackledger.api.caller.LocalCallers;
import comebackledger.api.http.Route;
import comebackledger.api.route.CalculationRoutes;
import comebackledger.api.route.RouteTable;
import io.restassured.config.EncoderConfig;
import io.restassured.config.RestAssuredConfig;
import io.restassured.response.Response;
import io.restassured.specification.RequestSpecification;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The contract against the running service: the same routes, roles, parameters and media types, and every example sent for real. */
class ContractOverHttpTest {
    private static final JsonNode CONTRACT = contract();
    private static final SchemaRegistry SCHEMAS = SchemaRegistry.withDialect(Dialects.getOpenApi31(),
            builder -> builder.schemas(Map.of("urn:contract", closed(CONTRACT.deepCopy()).toString())));
    private static final Map<String, String> PARTS = Map.of("{unit}", "T-104", "{visit}", "WO-1001", "{place}", "charge-air.cooler-outlet-boot",
            "{series}", "charge-air.orificeMm");

    private static final RestAssuredConfig AS_SENT = RestAssuredConfig.config()
            .encoderConfig(EncoderConfig.encoderConfig().appendDefaultContentCharsetToContentTypeIfUndefined(false));

    @TempDir
    private static Path folder;
    private static RunningLedger ledger;

    @BeforeAll
    static void start() {
        ledger = new RunningLedger(folder, new LocalCallers("default"));
        request("PUT", "/v1/units/{unit}", example("PUT", "/v1/units/{unit}"));
        request("PUT", "/v1/units/{unit}/visits/{visit}", example("PUT", "/v1/units/{unit}/visits/{visit}"));
    }

    @AfterAll
    static void stop() {
        ledger.close();
    }

    private static JsonNode contract() {
        try (InputStream in = ContractOverHttpTest.class.getResourceAsStream("/META-INF/openapi.yaml")) {
            return new YAMLMapper().readTree(Objects.requireNonNull(in));
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    /** Every object closed, so that a member that no schema tells of is an error. */
    private static JsonNode closed(JsonNode node) {
        if (node instanceof ObjectNode object && object.path("type").asText().equals("object") && object.has("properties")
                && !object.has("additionalProperties")) {
            object.put("additionalProperties", false);
        }
        node.forEach(ContractOverHttpTest::closed);
        return node;
    }

    private static Map<String, JsonNode> operations() {
        Map<String, JsonNode> found = new TreeMap<>();
        CONTRACT.get("paths").properties().forEach(path -> path.getValue().properties().stream()
                .filter(member -> Set.of("get", "put", "post", "delete").contains(member.getKey()))
                .forEach(member -> found.put(member.getKey().toUpperCase(Locale.ROOT) + " " + path.getKey(), member.getValue())));
        return found;
    }

    private static JsonNode example(String method, String path) {
        return operations().get(method + " " + path).at("/requestBody/content").properties().iterator().next().getValue()
                .get("examples").properties().iterator().next().getValue().get("value");
    }

    /** Each row of the table under its calculations' own names, as the contract writes them. */
    private static Map<String, Route> routes() {
        Map<String, Route> found = new TreeMap<>();
        for (Route route : RouteTable.with(ledger.routes())) {
            if (route.pattern().equals("/v1/calculations/{name}")) {
                CalculationRoutes.names().forEach(name -> found.put("POST /v1/calculations/" + name, route));
            } else {
                found.put(route.method() + " " + route.pattern(), route);
            }
        }
        return found;
    }

    @Test
    void contractAndTable_nameTheSameCalls() {
        assertEquals(operations().keySet(), routes().keySet());
    }

    @Test
    void contractAndTable_nameTheSameRolesQueriesAndMediaTypes() {
        routes().forEach((call, route) -> {
            JsonNode operation = operations().get(call);
            assertEquals(texts(operation.get("x-roles")),
                    route.roles().stream().map(role -> role.name().toLowerCase(Locale.ROOT)).collect(Collectors.toCollection(TreeSet::new)), call);
            assertEquals(queries(operation), new TreeSet<>(route.query()), call);
            Set<String> answered = new TreeSet<>();
            operation.get("responses").properties().stream().filter(answer -> answer.getKey().startsWith("2"))
                    .forEach(answer -> answer.getValue().path("content").fieldNames().forEachRemaining(answered::add));
            assertEquals(answered, new TreeSet<>(route.produces()), call);
        });
    }

    private static Set<String> texts(JsonNode array) {
        Set<String> found = new TreeSet<>();
        array.forEach(text -> found.add(text.asText()));
        return found;
    }

    private static Set<String> queries(JsonNode operation) {
        Set<String> found = new TreeSet<>();
        for (JsonNode parameter : operation.path("parameters")) {
            JsonNode told = parameter.has("$ref") ? CONTRACT.at(parameter.get("$ref").asText().substring(1)) : parameter;
            if (told.get("in").asText().equals("query")) {
                found.add(told.get("name").asText());
            }
        }
        return found;
    }

    /** One example of one body. */
    record Sent(String call, String name, String mediaType, JsonNode value) {
        @Override
        public String toString() {
            return call + " " + name;
        }
    }

    static Stream<Sent> examples() {
        List<Sent> found = new ArrayList<>();
        operations().forEach((call, operation) -> operation.at("/requestBody/content").properties()
                .forEach(content -> content.getValue().path("examples").properties().forEach(
                        example -> found.add(new Sent(call, example.getKey(), content.getKey(), example.getValue().get("value"))))));
        return found.stream();
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("examples")
    void example_isTakenAndItsAnswerFitsTheContract(Sent sent) {
        String[] call = sent.call.split(" ", 2);

        Response answer = request(call[0], call[1], sent.value, sent.mediaType, fresh(sent));

        assertTrue(answer.statusCode() == 200 || answer.statusCode() == 201, () -> answer.statusCode() + " " + answer.asString());
        assertFits(sent.call, answer);
    }

    /** A visit of its own for each example, so that none revises another's. */
    private static Map<String, String> fresh(Sent sent) {
        Map<String, String> parts = new LinkedHashMap<>(PARTS);
        parts.put("{visit}", "EX-" + sent.name);
        return parts;
    }

    static Stream<String> reads() {
        return operations().keySet().stream().filter(call -> call.startsWith("GET "));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("reads")
    void read_whenAskedForEachOfItsMediaTypes_answersAsTheContractSays(String call) {
        String path = call.substring(4);
        for (String mediaType : Objects.requireNonNull(routes().get(call)).produces()) {
            Response answer = given().port(ledger.port()).accept(mediaType).get(at(path, PARTS));

            assertEquals(200, answer.statusCode(), () -> call + " as " + mediaType + ": " + answer.asString());
            assertEquals(mediaType, answer.contentType().split(";")[0], call);
            if (mediaType.equals(Route.JSON)) {
                assertFits(call, answer);
            }
        }
    }

    private static void assertFits(String call, Response answer) {
        String pointer = "/paths/" + call.split(" ", 2)[1].replace("~", "~0").replace("/", "~1") + "/"
                + call.split(" ", 2)[0].toLowerCase(Locale.ROOT)
                + "/responses/" + answer.statusCode() + "/content/application~1json/schema/$ref";
        String schema = CONTRACT.at(pointer).asText();
        assertTrue(schema.startsWith("#/components/schemas/"), () -> "the contract has no schema at " + pointer);
        List<String> faults = SCHEMAS.getSchema(SchemaLocation.of("urn:contract" + schema)).validate(answer.asString(), InputFormat.JSON)
                .stream().map(Error::toString).toList();
        assertEquals(List.of(), faults, call);
    }

    private static Response request(String method, String path, JsonNode body) {
        return request(method, path, body, Route.JSON, PARTS);
    }

    private static Response request(String method, String path, JsonNode body, String mediaType, Map<String, String> parts) {
        RequestSpecification request = given().config(AS_SENT).port(ledger.port()).contentType(mediaType)
                .body((body.isTextual() ? body.asText() : body.toString()).getBytes(StandardCharsets.UTF_8));
        if (path.equals("/v1/policy")) {
            String current = given().port(ledger.port()).get(path).header("ETag");
            request.header("If-Match", current);
        }
        return request.request(method, at(path, parts));
    }

    private static String at(String path, Map<String, String> parts) {
        String filled = path;
        for (Map.Entry<String, String> part : parts.entrySet()) {
            filled = filled.replace(part.getKey(), part.getValue());
        }
        return filled;
    }

    /** Served as JSON, it must be JSON; served as YAML, its numbers must be numbers to readers of YAML 1.1 too, which want a sign behind the e. */
    @Test
    void contract_whenServed_isWhatWasWritten() throws IOException {
        String json = given().port(ledger.port()).accept(Route.JSON).get("/openapi").asString();
        String yaml = given().port(ledger.port()).accept("application/yaml").get("/openapi").asString();

        assertEquals(CONTRACT.get("components"), new JsonMapper().readTree(json).get("components"));
        assertFalse(Pattern.compile(": -?[0-9.]+[eE][0-9]").matcher(yaml).find());
    }

    @Test
    void refusals_areThoseTheContractLists() {
        Predicate<String> isProblem = status -> status.startsWith("4") || status.startsWith("5");
        operations().forEach((call, operation) -> {
            String[] parts = call.split(" ", 2);
            if (!operation.has("requestBody") || parts[1].equals("/v1/imports")) {
                return;
            }
            Response answer = given().port(ledger.port()).contentType(Route.JSON).body("{\"astrology\": 1}").request(parts[0], at(parts[1], PARTS));
            assertTrue(isProblem.test("" + answer.statusCode()) && operation.get("responses").has("" + answer.statusCode()),
                    () -> call + " answers " + answer.statusCode());
        });
    }
}
