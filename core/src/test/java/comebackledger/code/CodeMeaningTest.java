package comebackledger.code;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Meanings, accused modules and the closed lists of which codes count for what. */
class CodeMeaningTest {
    private static TroubleCode code(String text) {
        if (text.startsWith("SPN")) {
            String[] words = text.split(" ");
            return J1939Code.of(Integer.parseInt(words[1]), Integer.parseInt(words[3]));
        }
        return J2012Code.parse(text).orElseThrow();
    }

    /** The modules that the network cases (NET-01 to NET-16) accuse by these codes; kinds of the table of U-codes (SAE J2012, from memory). */
    @ParameterizedTest
    @CsvSource({"U0121, network, lost-communication, brakes", "U0100, network, lost-communication, engine",
            "U0100-87, network, lost-communication, engine", "U0101, network, lost-communication, transmission",
            "U0155, network, lost-communication, cluster", "U0140, network, lost-communication, body",
            "U010E, network, lost-communication, aftertreatment",
            "U029D, network, lost-communication, nox-sensor-a", "U0401, network, invalid-data, engine", "U0073, network, bus-off,",
            "U0001, network, bus,",
            "U0301, network, software-incompatible, engine", "U0250, network, lost-communication,", "U0555, network, invalid-data,",
            "U1000, network, network-other,", "U3003, network, network-other,", "P0562, supply, low-supply,", "P0563, supply, other,",
            "P0299, charge-air, charge-air,", "P0234, charge-air, charge-air,", "P2263, charge-air, charge-air,", "P0128, powertrain, other,",
            "P1234, powertrain, other,", "C0035, chassis, other,", "B1234, body, other,", "SPN 639 FMI 2, network, bus,",
            "SPN 1231 FMI 9, network, bus,",
            "SPN 2011 FMI 9, network, lost-communication, brakes", "SPN 2000 FMI 9, network, lost-communication, engine",
            "SPN 2003 FMI 19, network, invalid-data, transmission", "SPN 2011 FMI 2, unknown, other, brakes",
            "SPN 84 FMI 19, network, invalid-data,", "SPN 190 FMI 9, network, lost-communication, engine",
            "SPN 77777 FMI 9, network, lost-communication,", "SPN 77777 FMI 3, unknown, other,", "SPN 102 FMI 18, charge-air, charge-air,",
            "SPN 102 FMI 3, powertrain, other,", "SPN 168 FMI 18, supply, low-supply,", "SPN 168 FMI 16, supply, other,",
            "SPN 110 FMI 0, powertrain, other,"})
    void of_saysSystemKindAndAccused(String text, String system, String kind, String accused) {
        CodeMeaning meaning = CodeMeaning.of(code(text));

        assertEquals(system, meaning.system(), text);
        assertEquals(kind, meaning.kind().word(), text);
        assertEquals(accused, meaning.accused().orElse(null), text);
        assertTrue(meaning.meaning().endsWith("."), text);
        assertFalse(meaning.source().isBlank(), text);
    }

    @Test
    void lostSender_isNamedByItsAddress() {
        assertEquals(OptionalInt.of(11), CodeMeaning.of(code("SPN 2011 FMI 9")).accusedAddress());
        assertTrue(CodeMeaning.of(code("U0073")).accusesReporter());
    }

    /** The rules' closed lists, both sides of each edge. */
    @ParameterizedTest
    @ValueSource(strings = {"U0121", "U1000", "U3FFF", "SPN 639 FMI 2", "SPN 1231 FMI 31", "SPN 1235 FMI 0", "SPN 100 FMI 9", "SPN 100 FMI 19"})
    void communicationCodes_areTheListed(String text) {
        assertTrue(CodeMeaning.isCommunication(code(text)), text);
    }

    @ParameterizedTest
    @ValueSource(strings = {"P0600", "C0121", "SPN 640 FMI 2", "SPN 100 FMI 8", "SPN 100 FMI 20", "SPN 1232 FMI 2", "SPN 2011 FMI 2"})
    void otherCodes_areNoCommunicationCodes(String text) {
        assertFalse(CodeMeaning.isCommunication(code(text)), text);
    }

    @Test
    void chargeAirCodes_areTheListed_andOnlyTheLowOnesAccuse() {
        List<Integer> low = List.of(1, 17, 18, 21);
        List<Integer> high = List.of(15, 16, 20);
        for (int spn : List.of(102, 1127)) {
            for (int fmi = 0; fmi <= J1939Code.MAX_FMI; fmi++) {
                assertEquals(low.contains(fmi), CodeMeaning.accusesChargeAir(J1939Code.of(spn, fmi)), "SPN " + spn + " FMI " + fmi);
                assertEquals(low.contains(fmi) || high.contains(fmi), CodeMeaning.isChargeAir(J1939Code.of(spn, fmi)), "SPN " + spn + " FMI " + fmi);
            }
        }
        Map.of("P0299", true, "P2262", true, "P2263", true, "P0234", false).forEach((text, accuses) -> {
            assertTrue(CodeMeaning.isChargeAir(code(text)), text);
            assertEquals(accuses, CodeMeaning.accusesChargeAir(code(text)), text);
        });
        assertFalse(CodeMeaning.isChargeAir(code("SPN 3563 FMI 18")));
        assertFalse(CodeMeaning.isChargeAir(code("P0235")));
    }

    @Test
    void codeWithManyPossibleNumbers_accusesNobody() {
        J1939Code code = new J1939Code(OptionalInt.empty(), List.of(102, 816, 208_896), 18);

        assertFalse(CodeMeaning.isChargeAir(code));
        assertEquals("unknown", CodeMeaning.of(code).system());
        assertTrue(CodeMeaning.isCommunication(new J1939Code(OptionalInt.empty(), List.of(102, 816), 9)));
    }

    /** Every possible code has a sentence, and every row of a table a source. */
    @Test
    void everyCode_hasAMeaning_andEveryRowASource() {
        for (int number = 1; number <= 0xFFFF; number++) {
            assertTrue(CodeMeaning.of(J2012Code.ofTwoBytes(number)).meaning().length() > 5);
        }
        for (String table : List.of("ucodes.csv", "other-codes.csv", "suspect-parameters.csv", "source-addresses.csv", "failure-modes.csv",
                "failure-types.csv", "closed-lists.csv")) {
            Csv.rows(table).forEach(row -> assertFalse(row.getOrDefault("source", "").isBlank(), table + row));
        }
    }
}
