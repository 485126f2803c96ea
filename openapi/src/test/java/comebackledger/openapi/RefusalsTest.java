package comebackledger.openapi;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import java.util.function.IntFunction;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What is impossible in itself is refused with every fault at its pointer (rules, 1.1); what only looks odd is taken. */
class RefusalsTest {
    private static final Instant NOW = Instant.parse("2026-11-25T12:00:00Z");

    record Case(JsonNode row) {
        @Override
        public String toString() {
            return row.get("schema").asText() + ": " + row.get("rule").asText();
        }
    }

    static Stream<Case> refusals() {
        return rows("/wire/refusals.jsonl");
    }

    static Stream<Case> taken() {
        return rows("/wire/taken.jsonl");
    }

    private static Stream<Case> rows(String resource) {
        try (InputStream in = RefusalsTest.class.getResourceAsStream(resource)) {
            return new String(Objects.requireNonNull(in).readAllBytes(), StandardCharsets.UTF_8).lines().toList().stream()
                    .map(line -> new Case(Contract.json(line)));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Object read(String schema, String body) {
        byte[] bytes = body.getBytes(StandardCharsets.UTF_8);
        return switch (schema) {
            case "UnitBody" -> UnitMapping.toCore("T-104", bytes);
            case "VisitBody" -> VisitMapping.toCore("WO-1001", bytes, NOW);
            case "PolicyBody" -> PolicyMapping.toCore(bytes);
            default -> ReadinessMapping.toCore(bytes);
        };
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("refusals")
    void body_whenImpossible_isRefusedWithEveryFault(Case refused) {
        // As text in ASCII, so that half a surrogate pair is sent as one.
        String body = ascii(refused.row.get("body").toString());
        List<String> expected = StreamSupport.stream(refused.row.get("pointers").spliterator(), false).map(JsonNode::asText).sorted().toList();

        Problem problem = assertThrows(Problem.class, () -> read(refused.row.get("schema").asText(), body));

        assertEquals(refused.row.get("slug").asText(), problem.slug().word());
        assertEquals(422, problem.slug().status());
        assertEquals(expected, problem.faults().stream().map(Fault::pointer).sorted().toList());
        problem.faults().forEach(RefusalsTest::assertHouseStyle);
        assertEquals(List.of(), Contract.faultsOfClosed("Problem", problem.toWire()));
    }

    private static final Pattern PARSER_TALK = Pattern.compile("Exception|Jackson|com\\.|java\\.|\\bnode\\b|\\bnull pointer|token",
            Pattern.CASE_INSENSITIVE);

    /** Whole sentences in the caller's words; no free text and no parser's text. */
    private static void assertHouseStyle(Fault fault) {
        assertTrue(fault.detail().matches("(?s)[\\p{Lu}`\\p{Ll}].*[.]"), fault.toString());
        assertTrue(fault.detail().length() >= 25, fault.toString());
        assertFalse(PARSER_TALK.matcher(fault.detail()).find(), fault.toString());
    }

    private static String ascii(String text) {
        StringBuilder out = new StringBuilder();
        for (char c : text.toCharArray()) {
            out.append(c < 128 ? String.valueOf(c) : String.format("\\u%04x", (int) c));
        }
        return out.toString();
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("taken")
    void body_whenOnlyOdd_isTaken(Case good) {
        Object read = read(good.row.get("schema").asText(), good.row.get("body").toString());

        assertFalse(read.toString().isEmpty());
        assertEquals(List.of(), Contract.faults(good.row.get("schema").asText(), good.row.get("body")));
    }

    private static String visitWith(String list, IntFunction<String> entry, int count) {
        String entries = IntStream.range(0, count).mapToObj(entry).reduce((one, other) -> one + "," + other).orElse("");
        return "{\"arrivedAt\":\"2026-03-01T08:00:00Z\",\"" + list + "\":[" + entries + "]}";
    }

    @Test
    void lists_areTakenAtTheirLimitAndRefusedOnePast() {
        assertListLimit("codes", _ -> "{\"code\":\"U0121\",\"status\":\"active\"}");
        assertListLimit("captures", _ -> "{\"format\":\"candump\",\"text\":\"\"}");
        assertListLimit("busChecks", _ -> "{\"network\":\"n\"}");
        assertListLimit("chargeAirTests", _ -> "{\"method\":\"smoke\",\"leaksAt\":[]}");
        assertListLimit("repairs", _ -> "{\"place\":\"charge-air\",\"action\":\"none\"}");
    }

    private static void assertListLimit(String list, IntFunction<String> entry) {
        int most = Contract.schema("VisitBody/properties/" + list + "/maxItems").asInt();
        read("VisitBody", visitWith(list, entry, most));
        String longer = visitWith(list, entry, most + 1);

        Problem problem = assertThrows(Problem.class, () -> read("VisitBody", longer));

        assertEquals("/" + list, problem.faults().getFirst().pointer());
        assertTrue(problem.detail().contains(Integer.toString(most)), problem.detail());
    }

    @Test
    void faults_beyondTheHundredListed_areCounted() {
        String body = visitWith("repairs", _ -> "{\"place\":\"charge-air\",\"action\":\"x\"}", 150);

        Problem problem = assertThrows(Problem.class, () -> read("VisitBody", body));

        assertEquals(Faults.LISTED_AT_MOST, problem.faults().size());
        assertTrue(problem.detail().contains("150"), problem.detail());
    }

    /** The text that is kept differs from the text that came in white space alone: digits, escapes and order stay. */
    @Test
    void evidence_isKeptAsSentSaveWhiteSpace() {
        String sent = "{ \"note\" : \"\\u00e9 / é\",\n \"arrivedAt\": \"2026-03-01T09:00:00.000+01:00\", \"meters\": {\"odometer\": {\"unit\": \"km\", \"value\": 412300.10}}}";

        String kept = VisitMapping.toCore("WO-1", sent.getBytes(StandardCharsets.UTF_8), NOW).document();

        assertEquals(
                "{\"note\":\"é / é\",\"arrivedAt\":\"2026-03-01T09:00:00.000+01:00\",\"meters\":{\"odometer\":{\"unit\":\"km\",\"value\":412300.10}}}",
                kept);
    }

    /** Numbers by value, times by instant. */
    @Test
    void sameContent_isEqualHoweverItIsWritten() {
        String one = "{\"arrivedAt\":\"2026-03-01T09:00:00+01:00\",\"meters\":{\"odometer\":{\"value\":4123e2,\"unit\":\"km\"}},\"codesCleared\":false}";
        String other = "{\"meters\":{\"odometer\":{\"unit\":\"km\",\"value\":412300.0}},\"arrivedAt\":\"2026-03-01T08:00:00.000Z\"}";

        assertEquals(VisitMapping.toCore("WO-1", one.getBytes(StandardCharsets.UTF_8), NOW).decoded(),
                VisitMapping.toCore("WO-1", other.getBytes(StandardCharsets.UTF_8), NOW).decoded());
    }
}
