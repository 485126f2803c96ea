package comebackledger.openapi.calculation;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

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
import java.util.Map;
import java.util.Objects;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** The published cases of {@code /code/*.json} through the shape of the wire; each names its source. */
class CodesMappingTest {
    private static final ObjectMapper MAPPER = new ObjectMapper();

    private static JsonNode answer(String body) {
        return CodesMapping.answer(Fields.of(Json.object(body.getBytes(StandardCharsets.UTF_8)), new Faults()));
    }

    private static JsonNode answer(ObjectNode body) {
        return answer(body.toString());
    }

    private static Stream<JsonNode> cases(String file) {
        try (InputStream stream = Objects.requireNonNull(CodesMappingTest.class.getResourceAsStream("/code/" + file))) {
            List<JsonNode> cases = new ArrayList<>();
            MAPPER.readTree(stream).forEach(cases::add);
            return cases.stream();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static ObjectNode body() {
        return JsonNodeFactory.instance.objectNode();
    }

    private static String message(JsonNode one) {
        return one.get("id").asText() + ": " + one.get("source").asText();
    }

    /** The members that the case names, as the wire spells them; lists are compared as multisets. */
    private static List<String> wanted(JsonNode list, JsonNode like, Map<String, String> words) {
        List<String> found = new ArrayList<>();
        List<String> names = new ArrayList<>();
        like.forEach(node -> node.fieldNames().forEachRemaining(names::add));
        for (JsonNode node : list) {
            StringBuilder text = new StringBuilder();
            names.stream().distinct().sorted().forEach(name -> text.append(name).append('=').append(word(node, name, words)).append(' '));
            found.add(text.toString());
        }
        return found.stream().sorted().toList();
    }

    private static String word(JsonNode node, String name, Map<String, String> words) {
        String text = node.path(name).toString();
        return name.equals("activeAtEnd") && text.isEmpty() ? "true" : words.getOrDefault(text, text);
    }

    private static void assertRejected(JsonNode one, JsonNode answer) {
        assertEquals(wanted(one.get("expected").get("rejected"), one.get("expected").get("rejected"), Map.of()),
                wanted(answer.get("rejected"), one.get("expected").get("rejected"), Map.of()), message(one));
        assertEquals(one.get("expected").get("rejected").size(), answer.get("rejected").size(), message(one));
        answer.get("rejected").forEach(node -> assertTrue(node.get("detail").asText().endsWith("."), message(one)));
    }

    static Stream<JsonNode> logs() {
        return cases("codes_candump.json");
    }

    @ParameterizedTest
    @MethodSource("logs")
    void candump_answersAsTheCase(JsonNode one) {
        JsonNode answer = answer(body().put("candump", one.get("inputs").get("candump").asText()));

        JsonNode expected = one.get("expected").get("codes");
        Map<String, String> words = Map.of("\"previously-active\"", "\"stored\"");
        assertEquals(wanted(expected, expected, words), wanted(answer.get("codes"), expected, words), message(one));
        assertRejected(one, answer);
        JsonNode acknowledged = one.get("expected").path("acknowledgements");
        assertEquals(wanted(acknowledged, acknowledged, Map.of()), wanted(answer.path("acknowledgements"), acknowledged, Map.of()), message(one));
    }

    static Stream<JsonNode> obd() {
        return cases("codes_obd.json");
    }

    @ParameterizedTest
    @MethodSource("obd")
    void obdFrames_answerAsTheCase(JsonNode one) {
        ObjectNode body = body();
        ObjectNode entry = body.putArray("frames").addObject().put("format", "obd");
        entry.set("frames", one.get("inputs").get("frames"));

        JsonNode answer = answer(body);

        JsonNode expected = one.get("expected").get("codes");
        Map<String, String> words = Map.of("\"confirmed\"", "\"stored\"");
        assertEquals(wanted(expected, expected, words), wanted(answer.get("codes"), expected, words), message(one));
        assertRejected(one, answer);
    }

    @ParameterizedTest
    @MethodSource("obd")
    void obdFrames_asOneText_answerAlike(JsonNode one) {
        List<String> frames = new ArrayList<>();
        one.get("inputs").get("frames").forEach(frame -> frames.add(frame.asText()));
        ObjectNode listed = body();
        listed.putArray("frames").addObject().put("format", "obd").set("frames", one.get("inputs").get("frames"));
        ObjectNode joined = body();
        joined.putArray("frames").addObject().put("format", "obd").put("frames", String.join("\n", frames));

        assertEquals(answer(listed), answer(joined), message(one));
    }

    static Stream<JsonNode> uds() {
        return cases("codes_uds.json").filter(one -> one.get("inputs").has("bytes"));
    }

    @ParameterizedTest
    @MethodSource("uds")
    void udsBytes_answerAsTheCase(JsonNode one) {
        ObjectNode body = body();
        body.putArray("frames").addObject().put("format", "uds").put("bytes", one.get("inputs").get("bytes").asText());

        JsonNode answer = answer(body);

        ObjectNode like = body();
        like.putArray("codes").addObject().put("code", "").put("failureType", "").put("status", "");
        List<String> expected = new ArrayList<>();
        for (JsonNode node : one.get("expected").get("codes")) {
            String names = node.get("status").toString();
            String status = names.contains("\"testFailed\"")
                    ? "active"
                    : names.contains("confirmed") ? "stored" : names.contains("pending") ? "pending" : "";
            expected.add("code=" + node.get("code") + " failureType=" + node.get("failureType") + " status="
                    + (status.isEmpty() ? "" : "\"" + status + "\"")
                    + " ");
        }
        assertEquals(expected.stream().sorted().toList(), wanted(answer.get("codes"), like.get("codes"), Map.of()), message(one));
        assertRejected(one, answer);
    }

    static Stream<JsonNode> j2012() {
        return cases("codes_j2012.json").filter(one -> one.get("inputs").has("code") || one.get("inputs").has("bytes"));
    }

    @ParameterizedTest
    @MethodSource("j2012")
    void j2012_answersAsTheCase(JsonNode one) {
        ObjectNode body = body();
        if (one.get("inputs").has("code")) {
            body.putArray("codes").add(one.get("inputs").get("code").asText());
        }
        if (one.get("inputs").has("bytes")) {
            body.putArray("frames").addObject().put("format", "j2012").put("bytes", one.get("inputs").get("bytes").asText());
        }

        JsonNode answer = answer(body);

        JsonNode expected = one.get("expected");
        boolean none = expected.path("empty").asBoolean() || expected.path("rejected").asBoolean();
        assertEquals(expected.path("rejected").asBoolean() ? 1 : 0, answer.get("rejected").size(), message(one));
        assertEquals(none ? 0 : one.get("inputs").size(), answer.get("codes").size(), message(one));
        for (JsonNode node : answer.get("codes")) {
            assertEquals(expected.get("code"), node.get("code"), message(one));
            assertEquals(expected.path("failureType").asText(), node.path("failureType").asText(), message(one));
        }
    }

    static Stream<JsonNode> dm1() {
        return cases("codes_j1939.json").filter(one -> one.get("inputs").path("format").asText().startsWith("dm1-"));
    }

    @ParameterizedTest
    @MethodSource("dm1")
    void dm1Bytes_answerAsTheCase(JsonNode one) {
        boolean code = one.get("inputs").get("format").asText().equals("dm1-code");
        String bytes = one.get("inputs").get("bytes").asText();
        ObjectNode body = body();
        body.putArray("frames").addObject().put("format", "dm1").put("bytes", code ? "00FF" + bytes + "FFFF" : bytes + "00000000FFFF")
                .put("sourceAddress", 3);

        JsonNode answer = answer(body);

        JsonNode lamps = answer.get("lamps").get(0);
        assertEquals(3, lamps.get("sourceAddress").asInt(), message(one));
        if (code) {
            ObjectNode expected = one.get("expected").deepCopy();
            ObjectNode list = body();
            list.putArray("codes").add(expected);
            assertEquals(wanted(list.get("codes"), list.get("codes"), Map.of()), wanted(answer.get("codes"), list.get("codes"), Map.of()),
                    message(one));
        } else {
            one.get("expected").properties().forEach(
                    lamp -> assertEquals(lamp.getValue().get("state").asText().equals("on"), lamps.get(lamp.getKey()).asBoolean(), message(one)));
        }
    }

    @Test
    void answer_hasMeaningAndAccused() {
        JsonNode answer = answer("""
                {"codes": ["U0121-87", "u010c", "X0100", "P0000"], "candump": "(1.0) can0 18FECA00#10FFDB070901FFFF"}""");

        JsonNode first = answer.get("codes").get(0);
        assertEquals("U0121", first.get("code").asText());
        assertEquals("87", first.get("failureType").asText());
        assertEquals("network", first.get("system").asText());
        assertEquals("brakes", first.get("accused").asText());
        assertFalse(first.has("status"));
        JsonNode last = answer.get("codes").get(2);
        assertEquals("brakes", last.get("accused").asText());
        assertEquals("stop", last.get("severity").asText());
        assertTrue(last.get("activeAtEnd").asBoolean());
        assertEquals(2, answer.get("rejected").get(0).get("at").asInt());
        assertEquals("/codes/3", answer.get("rejected").get(1).get("pointer").asText());
        assertEquals("{\"sourceAddress\":0,\"interface\":\"can0\",\"redStop\":true,\"amberWarning\":false,\"malfunction\":false,\"protect\":false}",
                answer.get("lamps").get(0).toString());
    }

    /** Bytes may be a whole frame or the answer inside it; an identifier names the sender. */
    @ParameterizedTest
    @CsvSource({"obd, 0443010128AAAAAA, 7E8", "obd, 43 01 01 28, 7E8", "uds, 07 59 02 FF 01 28 00 08, 7E8", "uds, 59 02 FF 01 28 00 08, 7E8"})
    void bytes_areTakenWithOrWithoutTheirFrameByte(String format, String bytes, String identifier) {
        ObjectNode body = body();
        body.putArray("frames").addObject().put("format", format).put("bytes", bytes).put("identifier", identifier);

        JsonNode answer = answer(body);

        assertEquals("P0128", answer.get("codes").get(0).get("code").asText());
        assertEquals("stored", answer.get("codes").get(0).get("status").asText());
        assertEquals("7E8", answer.get("codes").get(0).get("ecu").asText());
        assertTrue(answer.get("rejected").isEmpty());
    }

    @Test
    void senderThatWasNotNamed_staysUnnamed() {
        JsonNode answer = answer("""
                {"frames": [{"format": "obd", "bytes": "0443010128AAAAAA"}]}""");

        assertEquals("P0128", answer.get("codes").get(0).get("code").asText());
        assertFalse(answer.get("codes").get(0).has("ecu"));
    }

    @Test
    void faultyBody_isRefusedWithEveryPointer() {
        String body = """
                {"codes": ["U0100", 5], "frames": [{"format": "dm9", "bytes": "00"}, {"format": "obd"}, {"format": "j2012", "frames": ["7E8#00"]},
                 {"format": "dm1", "bytes": "00", "sourceAddress": 256, "identifier": "xyz"}], "candump": 5, "more": 1}""";

        Problem problem = assertThrows(Problem.class, () -> answer(body));

        assertEquals(List.of("/codes/1", "/frames/0/format", "/frames/1/bytes", "/frames/2/frames", "/frames/3/sourceAddress", "/frames/3/identifier",
                "/candump", "/more"), problem.faults().stream().map(Fault::pointer).toList());
    }

    /** The limit of entries, at the limit and one past it. */
    @Test
    void codes_areLimited() {
        ObjectNode body = body();
        for (int i = 0; i < CodesMapping.ENTRIES_AT_MOST; i++) {
            body.withArray("codes").add("U0100");
        }
        assertEquals(CodesMapping.ENTRIES_AT_MOST, answer(body).get("codes").size());
        body.withArray("codes").add("U0100");

        Problem problem = assertThrows(Problem.class, () -> answer(body));

        assertTrue(problem.faults().getFirst().detail().contains("10000"));
    }

    @Test
    void nothingAsked_isNothingAnswered() {
        assertEquals("{\"codes\":[],\"lamps\":[],\"rejected\":[]}", answer("{}").toString());
    }
}
