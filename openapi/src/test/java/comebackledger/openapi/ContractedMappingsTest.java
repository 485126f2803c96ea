package comebackledger.openapi;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.calculation.BusCheckMapping;
import comebackledger.openapi.calculation.BusReadingsMapping;
import comebackledger.openapi.calculation.ChargeAirTestMapping;
import comebackledger.openapi.calculation.CodesMapping;
import comebackledger.openapi.calculation.ControlChartMapping;
import comebackledger.openapi.calculation.EventTrendMapping;
import comebackledger.openapi.calculation.HoldComparisonMapping;
import comebackledger.openapi.calculation.MeanCumulativeMapping;
import comebackledger.openapi.calculation.OrificeFlowMapping;
import comebackledger.openapi.calculation.RateComparisonMapping;
import comebackledger.openapi.calculation.ReadingTrendMapping;
import comebackledger.openapi.calculation.RepairHoldMapping;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Contract and mappings against each other: what one takes the other takes, under thousands of small changes to good bodies. */
class ContractedMappingsTest {
    private static final long SEED = 20_261_125L;
    private static final Instant NOW = Instant.parse("2026-11-25T12:00:00Z");

    /** Each schema of a request with the mapping that reads it; the result is the answer of a calculation, else what was decoded. */
    private static final Map<String, Function<byte[], Object>> MAPPINGS = new TreeMap<>(Map.ofEntries(
            entry("UnitBody", body -> UnitMapping.toCore("T-104", body).decoded()),
            entry("VisitBody", body -> VisitMapping.toCore("WO-1001", body, NOW).decoded()),
            entry("PolicyBody", body -> PolicyMapping.toCore(body).decoded()),
            entry("ReadinessQuestions", ReadinessMapping::toCore),
            entry("BusCheckQuestion", body -> BusCheckMapping.answer(fields(body))),
            entry("BusReadingsQuestion", body -> BusReadingsMapping.answer(fields(body))),
            entry("CodesQuestion", body -> CodesMapping.answer(fields(body))),
            entry("ChargeAirTestQuestion", body -> ChargeAirTestMapping.answer(fields(body))),
            entry("ControlChartQuestion", body -> ControlChartMapping.answer(fields(body))),
            entry("EventTrendQuestion", body -> EventTrendMapping.answer(fields(body))),
            entry("HoldComparisonQuestion", body -> HoldComparisonMapping.answer(fields(body))),
            entry("MeanCumulativeQuestion", body -> MeanCumulativeMapping.answer(fields(body))),
            entry("RateComparisonQuestion", body -> RateComparisonMapping.answer(fields(body))),
            entry("ReadingTrendQuestion", body -> ReadingTrendMapping.answer(fields(body))),
            entry("RepairHoldQuestion", body -> RepairHoldMapping.answer(fields(body))),
            entry("OrificeFlowQuestion", body -> OrificeFlowMapping.answer(fields(body)))));

    private static Map.Entry<String, Function<byte[], Object>> entry(String schema, Function<byte[], Object> mapping) {
        return Map.entry(schema, mapping);
    }

    private static Fields fields(byte[] body) {
        return Fields.of(Json.object(body), new Faults());
    }

    static Stream<Contract.Example> examples() {
        return Contract.requests().filter(example -> MAPPINGS.containsKey(example.schema()));
    }

    private static Object read(Contract.Example example, JsonNode body) {
        return MAPPINGS.get(example.schema()).apply(Json.bytes(body));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("examples")
    void mapping_readsTheExample(Contract.Example example) {
        Object read = read(example, example.value());

        if (read instanceof JsonNode answer) {
            assertEquals(List.of(), Contract.faultsOfClosed(example.schema().replace("Question", "Answer"), answer));
        }
    }

    static Stream<Contract.Example> answered() {
        return Contract.answers()
                .filter(example -> MAPPINGS.containsKey(example.schema().replace("Answer", "Question")) && asked(example).isPresent());
    }

    /** The request whose answer is shown: of the same call and name. */
    private static Optional<Contract.Example> asked(Contract.Example answer) {
        return examples().filter(request -> request.schema().endsWith("Question") && request.name().equals(answer.name().replace(" 200 ", " ")))
                .findFirst();
    }

    /** Shown with six digits. The odds of a bus check move with the model: of them only what a reader would act on is compared. */
    @ParameterizedTest(name = "{0}")
    @MethodSource("answered")
    void answerExample_isWhatTheMappingAnswers(Contract.Example shown) {
        Contract.Example asked = asked(shown).orElseThrow();
        JsonNode answer = Contract.json(read(asked, asked.value()).toString());

        if (shown.schema().equals("BusCheckAnswer")) {
            Stream.of("/verdict", "/terminatorsSeen", "/suspects/0/fault").forEach(at -> assertEquals(shown.value().at(at), answer.at(at), at));
        } else {
            assertTrue(shown.value().equals(new WithinSixDigits(), answer), () -> "shown " + shown.value() + "\nis " + answer);
        }
    }

    private static final class WithinSixDigits implements java.util.Comparator<JsonNode> {
        @Override
        public int compare(JsonNode one, JsonNode other) {
            boolean same = one.isNumber() && other.isNumber()
                    ? Math.abs(one.doubleValue() - other.doubleValue()) <= 1e-5 * Math.abs(one.doubleValue())
                    : one.equals(other);
            return same ? 0 : 1;
        }
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("examples")
    void decoded_isTheSameWithMembersInAnyOrder(Contract.Example example) {
        assertEquals(read(example, example.value()), read(example, reversed(example.value())));
    }

    private static JsonNode reversed(JsonNode node) {
        if (node instanceof ObjectNode object) {
            ObjectNode turned = JsonNodeFactory.instance.objectNode();
            ContractTest.names(object).reversed().forEach(name -> turned.set(name, reversed(object.get(name))));
            return turned;
        }
        if (node instanceof ArrayNode array) {
            ArrayNode same = JsonNodeFactory.instance.arrayNode();
            array.forEach(value -> same.add(reversed(value)));
            return same;
        }
        return node;
    }

    /**
     * Every member in turn becomes something else. Only a {@link Problem} is ever thrown, with pointers into the body; and what the contract
     * refuses the mapping refuses.
     */
    @ParameterizedTest(name = "{0}")
    @MethodSource("examples")
    void mapping_refusesWhatTheContractRefuses(Contract.Example example) {
        SplittableRandom random = new SplittableRandom(SEED);
        for (String pointer : pointers(example.value(), "")) {
            for (JsonNode other : replacements(example.value().at(pointer), random)) {
                JsonNode changed = with(example.value(), pointer, other);
                compare(example, pointer, changed);
            }
            if (!pointer.isEmpty()) {
                compare(example, pointer, without(example.value(), pointer));
            }
            if (example.value().at(pointer).isObject()) {
                ObjectNode changed = example.value().deepCopy();
                ((ObjectNode) (pointer.isEmpty() ? changed : changed.at(pointer))).put("mistyped", 1);
                compare(example, pointer, changed);
            }
        }
    }

    private static void compare(Contract.Example example, String pointer, JsonNode changed) {
        boolean fits = Contract.faults(example.schema(), changed).isEmpty();
        String shown = "seed " + SEED + ", " + example.name() + " changed at " + pointer + ": " + changed;
        try {
            read(example, changed);
            assertTrue(fits, shown);
        } catch (Problem problem) {
            assertEquals(422, problem.slug().status(), shown);
            assertFalse(problem.faults().isEmpty(), shown);
            problem.faults().forEach(fault -> assertTrue(pointsInto(changed, fault.pointer()), shown + " told at " + fault.pointer()));
        }
    }

    /** A fault of a missing member points at the member, so only its parent must be there. */
    private static boolean pointsInto(JsonNode body, String pointer) {
        return pointer.isEmpty() || !body.at(pointer.substring(0, pointer.lastIndexOf('/'))).isMissingNode();
    }

    private static List<String> pointers(JsonNode node, String at) {
        List<String> found = new ArrayList<>(List.of(at));
        node.properties().forEach(member -> found.addAll(pointers(member.getValue(), at + "/" + Fields.escaped(member.getKey()))));
        for (int i = 0; node.isArray() && i < node.size(); i++) {
            found.addAll(pointers(node.get(i), at + "/" + i));
        }
        return found;
    }

    private static List<JsonNode> replacements(JsonNode value, SplittableRandom random) {
        JsonNodeFactory make = JsonNodeFactory.instance;
        List<JsonNode> others = new ArrayList<>(List.of(make.nullNode(), make.booleanNode(true), make.textNode(""), make.textNode("psi"),
                make.textNode("none"), make.textNode("2026-03-01"), make.numberNode(-1), make.numberNode(0), make.numberNode(1.5),
                make.numberNode(1e300),
                make.objectNode(), make.arrayNode(), make.arrayNode().add(1), make.arrayNode().addObject()));
        if (value.isNumber()) {
            others.add(make.numberNode(value.doubleValue() * Math.pow(10, random.nextInt(-6, 7))));
            others.add(make.textNode(value.asText()));
        }
        if (value.isTextual()) {
            others.add(make.textNode(value.textValue() + " "));
            others.add(make.textNode(value.textValue().toUpperCase(java.util.Locale.ROOT)));
            others.add(make.textNode("x".repeat(random.nextInt(60, 210))));
        }
        return others;
    }

    private static JsonNode with(JsonNode body, String pointer, JsonNode other) {
        if (pointer.isEmpty()) {
            return other;
        }
        JsonNode copy = body.deepCopy();
        JsonNode parent = copy.at(pointer.substring(0, pointer.lastIndexOf('/')));
        String name = last(pointer);
        if (parent instanceof ObjectNode object) {
            object.set(name, other);
        } else {
            ((ArrayNode) parent).set(Integer.parseInt(name), other);
        }
        return copy;
    }

    private static JsonNode without(JsonNode body, String pointer) {
        JsonNode copy = body.deepCopy();
        JsonNode parent = copy.at(pointer.substring(0, pointer.lastIndexOf('/')));
        if (parent instanceof ObjectNode object) {
            object.remove(last(pointer));
        } else {
            ((ArrayNode) parent).remove(Integer.parseInt(last(pointer)));
        }
        return copy;
    }

    private static String last(String pointer) {
        return pointer.substring(pointer.lastIndexOf('/') + 1).replace("~1", "/").replace("~0", "~");
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("examples")
    void mapping_whenSomeLeavesMoveFar_answersOrSaysWhatIsWrong(Contract.Example example) {
        moveFar(example, 100);
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("examples")
    @Tag("long")
    void mapping_whenLeavesMoveFarManyTimes_answersOrSaysWhatIsWrong(Contract.Example example) {
        moveFar(example, 10_000);
    }

    private static void moveFar(Contract.Example example, int rounds) {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int i = 0; i < rounds && !example.value().isEmpty(); i++) {
            JsonNode changed = Mutation.of(example.value(), random);
            String shown = "seed " + SEED + ", round " + i + " of " + example.name() + ": " + changed;
            try {
                if (read(example, changed) instanceof JsonNode answer) {
                    JsonNode sent = Contract.json(answer.toString());
                    assertEquals(List.of(), Contract.faultsOfClosed(example.schema().replace("Question", "Answer"), sent), shown);
                }
            } catch (Problem problem) {
                assertEquals(422, problem.slug().status(), shown);
            } catch (RuntimeException e) {
                throw new AssertionError(shown, e);
            }
        }
    }

    /** Cut at each byte, a body is refused as no JSON. */
    @ParameterizedTest(name = "{0}")
    @MethodSource("examples")
    void mapping_whenTheBodyIsCut_saysThatItIsNoJson(Contract.Example example) {
        byte[] whole = Json.bytes(example.value());
        for (int length = 0; length < whole.length; length++) {
            byte[] cut = java.util.Arrays.copyOf(whole, length);

            Problem problem = assertThrows(Problem.class, () -> MAPPINGS.get(example.schema()).apply(cut));

            assertEquals(Problem.Slug.MALFORMED_JSON, problem.slug());
        }
    }
}
