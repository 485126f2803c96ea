package comebackledger.openapi;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.bus.FaultKind;
import comebackledger.bus.FaultOdds;
import comebackledger.code.Why;
import comebackledger.measure.Kind;
import comebackledger.measure.UnitOfMeasure;
import comebackledger.readiness.Reason;
import comebackledger.trail.Flag;
import comebackledger.visit.AirMethod;
import comebackledger.visit.CaptureFormat;
import comebackledger.visit.Certification;
import comebackledger.visit.CodeStatus;
import comebackledger.visit.FlowReference;
import comebackledger.visit.Power;
import comebackledger.visit.RepairAction;
import comebackledger.visit.Stage;
import java.util.Arrays;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The contract says what the code does: its examples fit its schemas, its words and units are the code's. */
class ContractTest {
    static Stream<Contract.Example> requests() {
        return Contract.requests().filter(example -> !example.schema().isEmpty());
    }

    static Stream<Contract.Example> answers() {
        return Contract.answers().filter(example -> !example.schema().isEmpty());
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("requests")
    void requestExample_fitsItsSchema(Contract.Example example) {
        assertEquals(List.of(), Contract.faults(example.schema(), example.value()));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("answers")
    void answerExample_fitsItsSchemaAndShowsNothingUndocumented(Contract.Example example) {
        assertEquals(List.of(), Contract.faultsOfClosed(example.schema(), example.value()));
    }

    @Test
    void everyBody_hasAnExample() {
        Contract.operations().forEach((call, operation) -> operation.path("requestBody").path("content")
                .forEach(content -> assertFalse(content.path("examples").isEmpty(), call)));
    }

    @Test
    void everyOperation_namesItselfOnceItsRolesAndItsRefusals() {
        Set<String> seen = new HashSet<>();
        Set<String> roles = Set.of("technician", "planner", "dispatcher", "administrator");
        Contract.operations().forEach((call, operation) -> {
            assertTrue(seen.add(operation.get("operationId").asText()), call);
            operation.get("x-roles").forEach(role -> assertTrue(roles.contains(role.asText()), call));
            assertTrue(operation.get("responses").has("401"), call);
            assertEquals(call.contains("{unit}") && !call.startsWith("PUT /v1/units/{unit} ") && !call.equals("PUT /v1/units/{unit}"),
                    operation.get("responses").has("404"), call);
            assertEquals(operation.has("requestBody"), operation.get("responses").has("415"), call);
            assertEquals(!call.contains("/calculations/"), operation.get("responses").has("503"), call);
        });
    }

    @Test
    void everyReference_leadsSomewhere() {
        Contract.DOCUMENT.findValuesAsText("$ref").forEach(reference -> assertFalse(
                Contract.DOCUMENT.at(reference.substring(1)).isMissingNode(), reference));
    }

    /** Requests are closed, so that a typing error never loses evidence; answers may grow. */
    @Test
    void requestSchemas_areClosed() {
        Set<String> checked = new HashSet<>();
        requests().forEach(example -> closed(Contract.schema(example.schema()), example.schema(), checked));
        closed(Contract.schema("ImportLine"), "ImportLine", checked);
        assertTrue(checked.contains("Network") && checked.contains("VisitLine"), checked.toString());
    }

    private static void closed(JsonNode schema, String name, Set<String> checked) {
        if (schema.path("type").asText().equals("object")) {
            assertTrue(schema.has("additionalProperties"), name);
        }
        schema.findValuesAsText("$ref").forEach(reference -> {
            if (checked.add(reference.replace("#/components/schemas/", ""))) {
                closed(Contract.DOCUMENT.at(reference.substring(1)), reference, checked);
            }
        });
    }

    private static final Map<String, List<Kind>> QUANTITIES = Map.ofEntries(Map.entry("Resistance", List.of(Kind.RESISTANCE)),
            Map.entry("ResistanceReading", List.of(Kind.RESISTANCE)), Map.entry("Voltage", List.of(Kind.VOLTAGE)),
            Map.entry("Pressure", List.of(Kind.PRESSURE)), Map.entry("Flow", List.of(Kind.VOLUME_FLOW, Kind.MASS_FLOW)),
            Map.entry("Temperature", List.of(Kind.TEMPERATURE)), Map.entry("Length", List.of(Kind.LENGTH)), Map.entry("Area", List.of(Kind.AREA)),
            Map.entry("Volume", List.of(Kind.VOLUME)), Map.entry("Distance", List.of(Kind.DISTANCE)), Map.entry("Duration", List.of(Kind.TIME)));

    @Test
    void quantities_areTheUnitsOfMeasureOfTheCodeWithTheirUcumCodes() {
        QUANTITIES.forEach((name, kinds) -> {
            Map<String, String> expected = new TreeMap<>();
            Arrays.stream(UnitOfMeasure.values()).filter(unit -> kinds.contains(unit.kind()))
                    .forEach(unit -> expected.put(unit.symbol(), unit.ucum()));
            JsonNode unit = Contract.schema(name).at("/properties/unit");
            Map<String, String> ucum = new TreeMap<>();
            unit.get("x-ucum").properties().forEach(member -> ucum.put(member.getKey(), member.getValue().asText()));
            assertEquals(expected, ucum, name);
            assertEquals(expected.keySet(), words(unit), name);
        });
    }

    @Test
    void words_areThoseOfTheCode() {
        assertWords("Stage", Stage.WORDS.keySet());
        assertWords("Power", Power.WORDS.keySet());
        assertWords("RepairAction", RepairAction.WORDS.keySet());
        assertWords("Test", BusCheckReading.TESTS.keySet());
        assertWords("FaultWord", Arrays.stream(FaultKind.values()).map(FaultKind::word).toList());
        assertWords("FlowReference", FlowReference.WORDS.keySet());
        assertWords("FlagWord", Arrays.stream(Flag.Kind.values()).map(Flag.Kind::word).toList());
        assertWords("CodeEntry/properties/status", CodeStatus.WORDS.keySet());
        assertWords("Capture/properties/format", CaptureFormat.WORDS.keySet());
        assertWords("ChargeAirTest/properties/method", AirMethod.WORDS.keySet());
        assertWords("DriverReport/properties/certification", Certification.WORDS.keySet());
        assertWords("Reason/properties/reason", Arrays.stream(Reason.Kind.values()).map(Reason.Kind::word).toList());
        assertWords("CodesAnswer/properties/rejected/items/properties/why", Arrays.stream(Why.values()).map(Why::word).toList());
        assertWords("Problem/properties/type",
                Arrays.stream(Problem.Slug.values()).map(slug -> "urn:comeback-ledger:problem:" + slug.word()).toList());
        assertEquals(PolicyMapping.ODDS.keySet(), new HashSet<>(names(Contract.schema("FaultOdds/properties"))));
    }

    private static void assertWords(String schema, Collection<String> expected) {
        assertEquals(new HashSet<>(expected), words(Contract.schema(schema)), schema);
    }

    private static Set<String> words(JsonNode schema) {
        Set<String> words = new HashSet<>();
        schema.get("enum").forEach(word -> assertTrue(words.add(word.asText()), word.asText()));
        return words;
    }

    static List<String> names(JsonNode object) {
        return object.properties().stream().map(Map.Entry::getKey).toList();
    }

    /** reference: the table of odds before any reading, common practice, no source. */
    @Test
    void faultOdds_haveTheDefaultsOfTheCode() {
        FaultOdds.DEFAULT.weights().forEach((kind, weight) -> assertEquals(weight,
                Contract.schema("FaultOdds/properties/" + kind.word() + "/default").asDouble(), kind.word()));
        assertEquals(FaultOdds.DEFAULT.pairs(), Contract.schema("FaultOdds/properties/pairs/default").asDouble());
    }

    /** An example of a problem is a problem as the code words it: slug, status and title agree. */
    @Test
    void problemExamples_areThoseOfTheirSlug() {
        Contract.answers().filter(example -> example.schema().equals("Problem")).forEach(example -> {
            Problem.Slug slug = Arrays.stream(Problem.Slug.values())
                    .filter(one -> example.value().get("type").asText().endsWith(":" + one.word())).findFirst().orElseThrow();
            assertEquals(slug.status(), example.value().get("status").asInt(), example.name());
            assertEquals(slug.title(), example.value().get("title").asText(), example.name());
        });
    }

    /** The carrier's duties stay with the carrier, and the contract says so. */
    @Test
    void description_leavesTheCarrierItsDuties() {
        String description = Contract.DOCUMENT.at("/info/description").asText();

        assertTrue(description.contains("stay with the carrier") && description.replaceAll("\\s+", " ").contains("Only what this ledger was told"));
    }
}
