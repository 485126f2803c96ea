package comebackledger.code;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class DmMessageTest {
    static Stream<Case> fourBytes() {
        return Case.of("codes_j1939.json", one -> one.inputs().path("format").asText().equals("dm1-code"));
    }

    @ParameterizedTest
    @MethodSource("fourBytes")
    void oneCode_isReadFromFourBytes(Case one) {
        DmCode code = code(Long.parseLong(one.input("bytes"), 16));

        JsonNode expected = one.expected();
        List<Integer> candidates = new ArrayList<>();
        expected.path("spnCandidates").forEach(node -> candidates.add(node.asInt()));
        assertEquals(expected.has("spn") ? OptionalInt.of(expected.get("spn").asInt()) : OptionalInt.empty(), code.code().spn(), one.message());
        assertEquals(candidates, code.code().spnCandidates(), one.message());
        assertEquals(expected.get("fmi").asInt(), code.code().fmi(), one.message());
        assertEquals(expected.has("occurrences") ? OptionalInt.of(expected.get("occurrences").asInt()) : OptionalInt.empty(), code.occurrences(),
                one.message());
        assertEquals(expected.get("conversionMethod").asInt() == 1, code.code().spn().isEmpty(), one.message());
    }

    private static DmCode code(long bytes) {
        return DmCode.of((int) (bytes >> 24) & 0xFF, (int) (bytes >> 16) & 0xFF, (int) (bytes >> 8) & 0xFF, (int) bytes & 0xFF).orElseThrow();
    }

    static Stream<Case> conversions() {
        return Case.of("codes_j1939.json", one -> one.expected().has("version1"));
    }

    @ParameterizedTest
    @MethodSource("conversions")
    void conversions_areFourWaysToWriteTheSameCode(Case one) {
        int spn = one.inputs().get("spn").asInt();
        for (Map.Entry<String, Conversion> version : Map.of("version1", Conversion.VERSION_1, "version2", Conversion.VERSION_2, "version3",
                Conversion.VERSION_3, "version4", Conversion.VERSION_4).entrySet()) {
            long bytes = Long.parseLong(one.expected().get(version.getKey()).asText(), 16);

            assertEquals(spn, version.getValue().spn((int) (bytes >> 24), (int) (bytes >> 16) & 0xFF, (int) (bytes >> 8) & 0xFF), one.message());
            DmCode code = code(bytes);
            assertTrue(code.code().spn().equals(OptionalInt.of(spn)) || code.code().spnCandidates().contains(spn), one.message());
            assertEquals(one.inputs().get("fmi").asInt(), code.code().fmi(), one.message());
        }
    }

    static Stream<Case> lamps() {
        return Case.of("codes_j1939.json", one -> one.inputs().path("format").asText().equals("dm1-lamps"));
    }

    @ParameterizedTest
    @MethodSource("lamps")
    void lamps_areReadFromTheFirstByte(Case one) {
        int bytes = Integer.parseInt(one.input("bytes"), 16);
        DmLamps lamps = new DmLamps(bytes >> 8);

        for (Lamp lamp : Lamp.values()) {
            JsonNode expected = one.expected().get(lamp.word());
            assertEquals(expected.get("state").asText(), lamps.state(lamp).name().toLowerCase(Locale.ROOT).replace('_', '-'), one.message());
        }
    }

    static Stream<Case> identifiers() {
        return Case.of("codes_j1939.json", one -> one.inputs().has("identifier"));
    }

    @ParameterizedTest
    @MethodSource("identifiers")
    void identifier_isTakenApart(Case one) {
        J1939Identifier identifier = J1939Identifier.of(Integer.parseInt(one.input("identifier"), 16));

        JsonNode expected = one.expected();
        assertEquals(
                new J1939Identifier(expected.get("priority").asInt(), expected.get("parameterGroup").asInt(), expected.get("sourceAddress").asInt(),
                        expected.get("destination").asInt()),
                identifier, one.message());
    }

    /** Cases LMP-01, -02, -04, -05: SAE J1939-73 lamp definitions (standard named; from memory), own wording. */
    @Test
    void severity_isThatOfTheGravestLamp() {
        assertEquals("stop", LampSeverity.of(Set.of(Lamp.RED_STOP)).word());
        assertEquals("warning", LampSeverity.of(Set.of(Lamp.AMBER_WARNING)).word());
        assertEquals("emission-related", LampSeverity.of(Set.of(Lamp.MALFUNCTION)).word());
        assertEquals("stop", LampSeverity.of(Set.of(Lamp.AMBER_WARNING, Lamp.RED_STOP, Lamp.MALFUNCTION)).word());
        assertEquals("probably-not-electronic", LampSeverity.of(Set.of(Lamp.PROTECT, Lamp.MALFUNCTION)).word());
        assertEquals("none", LampSeverity.of(Set.of()).word());
    }

    @Test
    void fills_areNoCodes() {
        assertTrue(DmMessage.read(DmKind.DM1, "00FF 00000000 FFFF", OptionalInt.of(0)).codes().isEmpty());
        assertTrue(DmMessage.read(DmKind.DM1, "00FF FFFFFFFF FFFF", OptionalInt.of(0)).codes().isEmpty());
        assertEquals(1, DmMessage.read(DmKind.DM1, "00FF 7F020901 FFFF", OptionalInt.of(0)).codes().size());
    }

    /** Cut at each byte: whole codes before the cut stay, and the cut is named. */
    @Test
    void read_whenCutAtEachByte_keepsWholeCodesAndNamesTheCut() {
        String whole = "04FF660002037F020905D3070901";
        for (int bytes = 0; bytes <= whole.length() / 2; bytes++) {
            CodeReport report = DmMessage.read(DmKind.DM1, whole.substring(0, 2 * bytes), OptionalInt.of(0));

            boolean sound = bytes >= 2 && (bytes - 2) % 4 == 0;
            assertEquals(bytes < 2 ? 0 : (bytes - 2) / 4, report.codes().size());
            List<String> expected = sound ? List.of() : List.of("at " + (bytes < 2 ? 0 : 2 + (bytes - 2) / 4 * 4) + " length");
            assertEquals(expected, Case.rejections(report.rejected()));
        }
    }
}
