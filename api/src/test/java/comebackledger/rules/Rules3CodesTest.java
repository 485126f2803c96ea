package comebackledger.rules;

import static comebackledger.rules.Yard.*;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.OptionalInt;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/** Section 3: which codes count, and where they belong. */
class Rules3CodesTest {
    private static final Yard YARD = new Yard();

    @AfterAll
    static void close() {
        YARD.close();
    }

    private static String day(int day) {
        return String.format("2026-03-%02dT08:00:00Z", day);
    }

    /** One visit a day with one code each; whether the last one counts. */
    private static boolean counts(String... lastOfAll) {
        Yard.Truck truck = YARD.truck();
        JsonNode answer = null;
        for (int i = 0; i < lastOfAll.length; i++) {
            answer = truck.put("V" + i, visit(day(i + 1), lastOfAll[i].split("\\|")));
        }
        return Yard.counting(answer).getFirst();
    }

    private static String u(String status, String more) {
        return codes(code("U0121", "engine", status, "'network': 'can-1'" + more));
    }

    private static String n(int occurrences) {
        return ", 'occurrences': " + occurrences;
    }

    private static String spn(int spn, int fmi, String status, String more) {
        return codes("{'spn': " + spn + ", 'fmi': " + fmi + ", 'sourceAddress': 0, 'status': '" + status + "'" + more + "}");
    }

    private static final String CLEARED = "'codesCleared': true";

    /** U0155 accuses the instrument cluster (SAE J2012), whose address is 23 (SAE J1939), whatever this fleet calls it. */
    @Test
    void accused_whenTheBuildNamesItOtherwise_isTheModuleAtItsUsualAddress() {
        String build = Yard.BUILD.replace("cluster", "dash");

        JsonNode answer = YARD.truck(build).put("A", visit(day(1), codes(code("U0155", "engine", "active", ""))));
        JsonNode unheard = YARD.truck(build.replace("'address': 23, ", "")).put("A", visit(day(1), codes(code("U0155", "engine", "active", ""))));

        assertEquals("network.can-1.dash", answer.at("/occurrences/0/place").asText());
        assertEquals("network.unassigned.cluster", unheard.at("/occurrences/0/place").asText());
    }

    @TestFactory
    List<DynamicTest> whichCount() {
        return List.of(
                dynamicTest("3 active and pending count", () -> {
                    assertTrue(counts(u("active", "")));
                    assertTrue(counts(u("pending", n(1))));
                    assertTrue(counts(u("active", n(5)), u("active", n(5))));
                }),
                dynamicTest("3 a stored code on first sight is history", () -> {
                    assertFalse(counts(u("stored", "")));
                    assertFalse(counts(u("stored", n(9))));
                    assertFalse(counts(u("permanent", n(9))));
                }),
                dynamicTest("3 a stored or permanent count counts when it rose, not when it stayed or fell", () -> {
                    for (String status : List.of("stored", "permanent")) {
                        assertTrue(counts(u(status, n(3)), u(status, n(4))), status);
                        assertFalse(counts(u(status, n(3)), u(status, n(3))), status);
                        assertFalse(counts(u(status, n(3)), u(status, n(2))), status);
                        assertTrue(counts(u(status, n(3)), u(status, n(2)), u(status, n(3))), status + " higher than when last seen");
                    }
                }),
                dynamicTest("3 a count is one reporter's and one code's own", () -> {
                    assertFalse(counts(u("stored", n(3)), codes(code("U0121", "cluster", "stored", "'network': 'can-1', 'occurrences': 4"))));
                    assertFalse(counts(u("stored", n(3)), codes(code("U0101", "engine", "stored", "'network': 'can-1', 'occurrences': 4"))));
                }),
                dynamicTest("3 a visit without the code does not forget it", () -> {
                    assertTrue(counts(u("stored", n(3)), km(1), u("stored", n(4))));
                    assertFalse(counts(u("stored", n(3)), km(1), u("stored", n(3))));
                }),
                dynamicTest("3 a sight without a count does not forget the count", () -> {
                    assertTrue(counts(u("stored", n(3)), u("stored", ""), u("stored", n(4))));
                    assertFalse(counts(u("stored", n(3)), u("stored", ""), u("stored", n(3))));
                }),
                dynamicTest("3 clearing sets the last count seen to 0", () -> {
                    assertTrue(counts(u("stored", n(3)) + "|" + CLEARED, u("stored", n(1))));
                    assertFalse(counts(u("stored", n(3)) + "|" + CLEARED, u("stored", n(0))));
                    assertTrue(counts(CLEARED, u("stored", n(1))), "of every code");
                    assertFalse(counts(u("stored", n(3)) + "|" + CLEARED, u("stored", n(2)), u("stored", n(2))));
                    assertTrue(counts(CLEARED, u("stored", ""), u("stored", n(1))), "a sight without a count leaves it 0");
                }),
                dynamicTest("3 stored without a count: news after a clearing, and only once", () -> {
                    assertTrue(counts(u("stored", "") + "|" + CLEARED, u("stored", "")));
                    assertTrue(counts(CLEARED, u("stored", "")));
                    assertFalse(counts(u("stored", ""), u("stored", "")));
                    assertFalse(counts(u("stored", "") + "|" + CLEARED, u("stored", ""), u("stored", "")));
                    assertTrue(counts(CLEARED, u("stored", "") + "|" + CLEARED, u("stored", "")));
                    assertFalse(counts(CLEARED, u("permanent", "")), "permanent needs a count");
                }),
                dynamicTest("3 never with setDuringService, and not news afterwards", () -> {
                    assertFalse(counts(u("active", ", 'setDuringService': true")));
                    assertFalse(counts(u("stored", n(4) + ", 'setDuringService': true"), u("stored", n(4))));
                    assertTrue(counts(u("stored", n(4) + ", 'setDuringService': true"), u("stored", n(5))));
                }),
                dynamicTest("3 a J1939 count of 126 means 126 or more, 127 not known", () -> {
                    assertTrue(counts(spn(639, 9, "stored", n(125)), spn(639, 9, "stored", n(126))));
                    assertFalse(counts(spn(639, 9, "stored", n(126)), spn(639, 9, "stored", n(126))));
                    assertFalse(counts(spn(639, 9, "stored", n(126)), spn(639, 9, "stored", n(127))));
                    assertFalse(counts(spn(639, 9, "stored", n(3)), spn(639, 9, "stored", n(127))));
                    assertTrue(counts(u("stored", n(126)), u("stored", n(127))), "a J2012 count goes on");
                }),
                dynamicTest("3 codes that do not count make no occurrence and are shown", () -> {
                    JsonNode answer = YARD.truck().put("A", visit(day(1), u("stored", n(3))));
                    assertEquals(List.of(), occurrences(answer));
                    assertEquals(List.of(false), Yard.counting(answer));
                }));
    }

    private static String systemOf(String codes) {
        return YARD.truck().put("A", visit(day(1), codes)).at("/codes/0/system").asText("none");
    }

    private static List<String> found(String codes) {
        return occurrences(YARD.truck().put("A", visit(day(1), codes)));
    }

    @TestFactory
    List<DynamicTest> belonging() {
        return List.of(
                dynamicTest("3 a code belongs to the network it names, known or not", () -> {
                    assertEquals("network.can-2", systemOf(codes(code("U0121", "engine", "active", "'network': 'can-2'"))));
                    assertEquals("network.can-9", systemOf(codes(code("U0121", "engine", "active", "'network': 'can-9'"))));
                }),
                dynamicTest("3 else to the only network that holds the accused and the reporter", () -> {
                    assertEquals("network.can-1", systemOf(codes(code("U0121", "engine", "active", ""))));
                    assertEquals("network.can-2", systemOf(codes(code("U0140", "engine", "active", ""))), "the body is on the second alone");
                }),
                dynamicTest("3 else to network.unassigned", () -> {
                    assertEquals("network.unassigned", systemOf(codes(code("U0121", "body", "active", ""))), "no network holds both");
                    assertEquals("network.unassigned",
                            systemOf(codes(code("U0100", "cluster", "active", "")).replace("'reportedBy': 'cluster', ", "")),
                            "two networks hold the engine");
                    assertEquals("network.unassigned", YARD.truck("{}").put("A", visit(day(1), codes(code("U0121", "engine", "active", ""))))
                            .at("/codes/0/system").asText());
                }),
                dynamicTest("3 communication codes: U, the networks themselves, any SPN with FMI 9 or 19", () -> {
                    for (String one : List.of(spn(639, 14, "active", ""), spn(1231, 2, "active", ""), spn(1235, 2, "active", ""),
                            spn(84, 9, "active", ""),
                            spn(84, 19, "active", ""))) {
                        assertTrue(systemOf(one).startsWith("network."), one);
                    }
                    for (String other : List.of(spn(84, 2, "active", ""), spn(640, 14, "active", ""), codes(code("C0121", "engine", "active", "")))) {
                        assertEquals("none", systemOf(other), other);
                    }
                }),
                dynamicTest("3 charge-air codes, and no others", () -> {
                    for (String code : List.of("P0234", "P0299", "P2262", "P2263")) {
                        assertEquals(List.of("charge-air.unlocated suspected"), found(codes(code(code, "engine", "active", ""))), code);
                    }
                    for (int fmi : List.of(1, 15, 16, 17, 18, 20, 21)) {
                        assertEquals("charge-air", systemOf(spn(102, fmi, "active", "")), "FMI " + fmi);
                        assertEquals("charge-air", systemOf(spn(1127, fmi, "active", "")), "FMI " + fmi);
                    }
                    for (int fmi : List.of(0, 2, 3, 4, 5, 13, 14, 31)) {
                        assertEquals("none", systemOf(spn(102, fmi, "active", "")), "FMI " + fmi);
                    }
                    assertEquals("none", systemOf(codes(code("P0235", "engine", "active", ""))));
                }),
                dynamicTest("3 DM1 is active, DM2 stored", () -> {
                    // One code, SPN 639 FMI 9 counted 5, from the engine (SAE J1939-73 layout, from memory).
                    String dm = "'captures': [{'format': 'candump', 'network': 'can-1', 'text': '(1.0) can0 %s#0000 7F02 0905 FFFF'}]";
                    JsonNode active = YARD.truck().put("A", visit(day(1), String.format(dm, "18FECA00").replace(" 7F02 0905 FFFF", "7F020905FFFF")));
                    JsonNode stored = YARD.truck().put("A", visit(day(1), String.format(dm, "18FECB00").replace(" 7F02 0905 FFFF", "7F020905FFFF")));
                    assertEquals("active", active.at("/codes/0/status").asText(), active.toString());
                    assertEquals("stored", stored.at("/codes/0/status").asText(), stored.toString());
                }),
                dynamicTest("3 a revision can change what counted later", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit(day(1), u("stored", n(3)))).was("B", visit(day(2), u("stored", n(4))));
                    assertEquals(List.of(true), Yard.counting(truck.visit("B")));
                    truck.put("A", visit(day(1), u("stored", n(4))), OptionalInt.of(1));
                    assertEquals(List.of(false), Yard.counting(truck.visit("B")));
                    assertEquals(List.of(), truck.trails("2026-04-01T00:00:00Z"));
                }));
    }
}
