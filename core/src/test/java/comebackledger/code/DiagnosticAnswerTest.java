package comebackledger.code;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** SAE J1979 and ISO 14229 answers, by themselves and in frames. */
class DiagnosticAnswerTest {
    static Stream<Case> obd() {
        return Case.of("codes_obd.json", _ -> true);
    }

    @ParameterizedTest
    @MethodSource("obd")
    void obdFrames_giveTheirCodes(Case one) {
        CodeReport report = ObdResponse.readFrames(one.inputList("frames"));

        List<String> expected = new ArrayList<>();
        one.expected().get("codes").forEach(node -> expected.add(String.join(" ", node.get("ecu").asText(), node.get("code").asText(),
                node.get("status").asText().replace("confirmed", "stored"))));
        assertEquals(expected.stream().sorted().toList(), report.codes().stream().map(DiagnosticAnswerTest::describe).sorted().toList(),
                one.message());
        assertEquals(one.expectedRejections(), Case.rejections(report.rejected()), one.message());
    }

    private static String describe(SeenCode seen) {
        return String.join(" ", seen.ecu().orElseThrow(), seen.code().text(), seen.status().orElseThrow().word());
    }

    static Stream<Case> uds() {
        return Case.of("codes_uds.json", one -> one.inputs().path("format").asText().equals("uds"));
    }

    @ParameterizedTest
    @MethodSource("uds")
    void udsBytes_giveTheirCodes(Case one) {
        CodeReport report = UdsResponse.report(one.input("bytes"), Optional.empty(), OptionalInt.empty());

        List<String> expected = new ArrayList<>();
        one.expected().get("codes")
                .forEach(node -> expected.add(node.get("code").asText() + "-" + node.get("failureType").asText() + " " + word(node)));
        assertEquals(expected, report.codes().stream().map(seen -> seen.code().text() + " " + seen.status().map(CodeState::word).orElse("untold"))
                .toList(), one.message());
        assertEquals(one.expectedRejections(), Case.rejections(report.rejected()), one.message());
    }

    /** The bits that the case names, in the order of {@link #state_isTheWiresWord}. */
    private static String word(JsonNode node) {
        List<String> names = Case.texts(node.get("status"));
        return names.contains("testFailed") ? "active" : names.contains("confirmed") ? "stored" : names.contains("pending") ? "pending" : "untold";
    }

    static Stream<Case> statuses() {
        return Case.of("codes_uds.json", one -> one.expected().has("names"));
    }

    @ParameterizedTest
    @MethodSource("statuses")
    void statusBits_areThoseOfTheStandard(Case one) {
        UdsStatus status = new UdsStatus(Integer.parseInt(one.input("status"), 16));

        List<String> set = Arrays.stream(UdsStatus.Bit.values()).filter(status::has).map(bit -> bit.name().replace("_", "").toLowerCase(Locale.ROOT))
                .toList();
        assertEquals(Case.texts(one.expected().get("names")).stream().map(name -> name.toLowerCase(Locale.ROOT)).toList(), set, one.message());
    }

    /** The order of the wire: test failed, else confirmed, else pending, else nothing is said. */
    @ParameterizedTest
    @CsvSource({"01, active", "0D, active", "0C, stored", "08, stored", "04, pending", "50,", "00,", "20,"})
    void state_isTheWiresWord(String status, String word) {
        assertEquals(Optional.ofNullable(word), new UdsStatus(Integer.parseInt(status, 16)).state().map(CodeState::word));
    }

    @Test
    void udsFrames_arePutTogether() {
        CodeReport report = UdsResponse.readFrames(List.of("7E8#100B5902FFC10087", "7E0#3000000000000000", "7E8#212FC1408728AAAA"));

        assertEquals(List.of("7E8 U0100-87 active", "7E8 U0140-87 stored"), report.codes().stream().map(DiagnosticAnswerTest::describe).toList());
        assertTrue(report.rejected().isEmpty());
    }

    @Test
    void moduleThatAsksToWait_isNotRejectedIfItAnswers() {
        assertTrue(UdsResponse.readFrames(List.of("7E8#037F1978", "7E8#035902FF")).rejected().isEmpty());
        assertEquals(List.of("at 0 negative-response"), Case.rejections(UdsResponse.readFrames(List.of("7E8#037F1978")).rejected()));
    }

    @ParameterizedTest
    @CsvSource({"7E8#, length", "7E8#00, length", "7E8#08430301280128FF, length", "7E8#1007430301280128, length", "7E8#100843, length",
            "7E8#40, form",
            "7E8#2101, sequence", "7E8#024100, service", "7E8#0143, length", "7E8#0343010128, length", "7E8, form", "7E#00, identifier",
            "7E8#0, odd-hex",
            "7E8#0G, not-hex", "7E8#001122334455667788, length", "18DAF110#0343, length"})
    void frame_isRefusedByTheWordThatFits(String frame, String why) {
        assertEquals(List.of("at 0 " + why), Case.rejections(ObdResponse.readFrames(List.of(frame)).rejected()), frame);
    }

    @Test
    void brokenAnswer_isRefusedOnce() {
        List<String> frames = List.of("7E8#106A433401010102", "7E8#2201010101010101", "7E8#2301010101010101", "7E8#0443010128AAAAAA");

        CodeReport report = ObdResponse.readFrames(frames);

        assertEquals(List.of("at 1 sequence"), Case.rejections(report.rejected()));
        assertEquals(1, report.codes().size());
    }

    @Test
    void answerBegunAnew_namesTheLastFrameOfTheOld() {
        CodeReport report = ObdResponse.readFrames(List.of("7E8#1008430301430196", "7E8#1008430301430196", "7E8#2102345555555555"));

        assertEquals(List.of("at 0 incomplete"), Case.rejections(report.rejected()));
        assertEquals(3, report.codes().size());
    }

    @Test
    void payloadByItself_isRead() {
        CodeReport report = ObdResponse.read("43 01 01 28", Optional.of("18DAF110"), OptionalInt.empty());

        assertEquals("P0128", report.codes().getFirst().code().text());
        assertEquals(OptionalInt.of(0x10), report.codes().getFirst().sourceAddress());
    }

    /** 60 codes, 122 bytes, are a first frame and 17 more: the sequence goes 1 to 15, then 0, then 1. */
    @Test
    void sequence_wrapsToZero() {
        StringBuilder payload = new StringBuilder("433C");
        for (int i = 1; i <= 60; i++) {
            payload.append(String.format(Locale.ROOT, "%04X", i));
        }
        List<String> frames = new ArrayList<>(List.of("7E8#107A" + payload.substring(0, 12)));
        for (int from = 12, sequence = 1; from < payload.length(); from += 14, sequence++) {
            frames.add(String.format(Locale.ROOT, "7E8#2%X%s", sequence & 0xF, payload.substring(from, Math.min(from + 14, payload.length()))));
        }

        CodeReport report = ObdResponse.readFrames(frames);

        assertEquals(60, report.codes().size());
        assertTrue(report.rejected().isEmpty());
    }

    /** A count below the bytes is as wrong as one above them: which of the two is right cannot be told. */
    @Test
    void countBelowTheBytes_isRefused() {
        assertEquals(List.of("at 0 length"), Case.rejections(ObdResponse.readFrames(List.of("7E8#06430101280129AA")).rejected()));
    }
}
