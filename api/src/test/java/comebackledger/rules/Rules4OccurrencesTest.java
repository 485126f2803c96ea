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
import org.junit.jupiter.api.TestFactory;

/** Section 4: from the evidence of one visit to its occurrences. */
class Rules4OccurrencesTest {
    private static final Yard YARD = new Yard();
    private static final String DAY = "2026-03-01T08:00:00Z";
    private static final String BRAKES = "network.can-1.brakes";
    private static final String TRUNK = "network.can-1.trunk";
    private static final String TERMINATOR = "network.can-1.terminator-b";
    private static final String U0121 = lost("U0121", "engine");
    private static final String P0299 = code("P0299", "engine", "active", "");

    @AfterAll
    static void close() {
        YARD.close();
    }

    private static JsonNode answer(String... members) {
        return YARD.truck().put("A", visit(DAY, members));
    }

    private static List<String> found(String... members) {
        return occurrences(answer(members));
    }

    @TestFactory
    List<DynamicTest> kinds() {
        return List.of(
                dynamicTest("4.1 confirmed: a test outside, a module silent, a leak located", () -> {
                    assertTrue(found(checks(read("as-found", 120.4))).getFirst().endsWith(" confirmed"));
                    assertEquals(List.of(BRAKES + " confirmed"), found(checks(call("as-found", "brakes"))));
                    assertEquals(List.of("charge-air.core confirmed"), found(air(smoke("as-found", "core"))));
                    assertEquals(List.of("charge-air.unlocated confirmed"), found(air(flow("as-found", 900))));
                }),
                dynamicTest("4.1 an as-left test that fails does the same, repair or no repair", () -> {
                    assertEquals(List.of("charge-air.core confirmed"), found(air(smoke("as-found"), smoke("as-left", "core")), repaired(BRAKES)));
                    assertEquals(List.of("charge-air.core confirmed"), found(air(smoke("as-left", "core")), repaired("charge-air.core")));
                    assertEquals(List.of("charge-air.core confirmed"), found(air(smoke("as-left", "core"))));
                }),
                dynamicTest("4.1 a located leak counts though its test is unjudged or within", () -> {
                    assertEquals(List.of("charge-air.core confirmed"), found(air(flow("as-found", 2, "core"))));
                    assertEquals(List.of("charge-air.core confirmed"),
                            occurrences(YARD.truck("{}").put("A", visit(DAY, air(flow("as-found", 30, "core"))))));
                    assertEquals(List.of(), occurrences(YARD.truck("{}").put("A", visit(DAY, air(flow("as-found", 30))))));
                }),
                dynamicTest("4.2 suspected: counting codes, no as-found test of that system", () -> {
                    assertEquals(List.of(BRAKES + " suspected"), found(codes(U0121)));
                    assertEquals(List.of("charge-air.unlocated suspected"), found(codes(P0299)));
                    assertEquals(List.of(BRAKES + " suspected"), found(codes(U0121), air(smoke("as-found"))), "another system's test is none");
                    assertEquals(List.of(BRAKES + " suspected"), found(codes(U0121), checks(call("as-left")), repaired("charge-air.core")));
                }),
                dynamicTest("4.3 no fault found: counting codes, every as-found test within, no claimed repair of that system", () -> {
                    assertEquals(List.of(BRAKES + " no-fault-found"), found(codes(U0121), checks(call("as-found"))));
                    assertEquals(List.of(BRAKES + " no-fault-found"), found(codes(U0121), checks(call("as-found")), repaired("charge-air.core")));
                    assertEquals(List.of("charge-air.unlocated no-fault-found"), found(codes(P0299), air(smoke("as-found"))));
                }),
                dynamicTest("4.3 with a claimed repair of that system it is suspected; an unclaimed one changes nothing", () -> {
                    assertEquals(List.of(BRAKES + " suspected"), found(codes(U0121), checks(call("as-found")), repaired(BRAKES)));
                    assertEquals(List.of(BRAKES + " no-fault-found"),
                            found(codes(U0121), checks(call("as-found")), "'repairs': [" + repair(BRAKES, false) + "]"));
                    assertEquals(List.of("charge-air.core suspected"), found(codes(P0299), air(smoke("as-found")), repaired("charge-air.core")));
                }),
                dynamicTest("4.4 no counting code, all within: no occurrence", () -> assertEquals(List.of(),
                        found(checks(call("as-found"), read("as-found", 60.2)), air(smoke("as-found"), flow("as-found", 2)),
                                codes(code("U0121", "engine", "stored", "'network': 'can-1'"))))),
                dynamicTest("4 one occurrence per place and visit, with all its evidence pointers", () -> {
                    JsonNode answer = answer(checks(call("as-found", "brakes"), read("as-found", 60.2)), codes(U0121),
                            air(smoke("as-found", "core"), flow("as-found", 900)));
                    assertEquals(List.of("charge-air.core confirmed", BRAKES + " confirmed"), occurrences(answer));
                    assertTrue(answer.at("/occurrences/1/evidence").toString().contains("/busChecks/0"));
                    assertTrue(answer.at("/occurrences/1/evidence").toString().contains("/codes/0"));
                    assertEquals("[\"/chargeAirTests/0\",\"/chargeAirTests/1\"]", answer.at("/occurrences/0/evidence").toString());
                }),
                dynamicTest("4 each located spot is its own occurrence", () -> assertEquals(
                        List.of("charge-air.boot confirmed", "charge-air.core confirmed"), found(air(smoke("as-found", "core", "boot"))))));
    }

    @TestFactory
    List<DynamicTest> places() {
        return List.of(
                dynamicTest("4 one silent module: that module", () -> assertEquals(List.of("network.can-1.cluster confirmed"),
                        found(checks(call("as-found", "cluster"))))),
                dynamicTest("4 all silent beyond one point: the trunk, with between", () -> {
                    JsonNode answer = answer(checks(call("as-found", "cluster", "brakes"), read("as-found", 120.4)));
                    assertEquals(List.of(TRUNK + " confirmed"), occurrences(answer));
                    assertTrue(answer.at("/judgements").toString().contains("\"between\":[\"transmission\",\"cluster\"]"),
                            answer.at("/judgements").toString());
                }),
                dynamicTest("4 several silent otherwise: the trunk", () -> assertEquals(List.of(TRUNK + " confirmed"),
                        found(checks(call("as-found", "transmission", "brakes"))))),
                dynamicTest("4 codes only: one accused module", () -> {
                    assertEquals(List.of(BRAKES + " suspected"), found(codes(U0121, lost("U0121", "cluster"))));
                    assertEquals(List.of(TRUNK + " suspected"), found(codes(code("U0001", "engine", "active", "'network': 'can-1'"))),
                            "nobody accused");
                }),
                dynamicTest("4 codes only: one module accusing two or more that nobody else accuses", () -> {
                    assertEquals(List.of("network.can-1.engine suspected"), found(codes(U0121, lost("U0101", "engine"))));
                    assertEquals(List.of(TRUNK + " suspected"), found(codes(U0121, lost("U0101", "cluster"))), "two accusers, one each");
                    assertEquals(List.of(TRUNK + " suspected"), found(codes(U0121, lost("U0101", "engine"), lost("U0121", "cluster"))),
                            "the brakes are accused by another too");
                }),
                dynamicTest("4 supply under 11.0 V on a 12 V system; at it, not", () -> {
                    String at = "{'network': 'can-1', 'supplyVoltage': {'value': %s, 'unit': 'V'}, 'rollCall': {'answered': ['engine', 'transmission', 'cluster'], 'silent': ['brakes']}}";
                    assertEquals(List.of("supply.vehicle confirmed"), found(checks(String.format(at, "10.99")), codes(U0121)));
                    assertEquals(List.of(BRAKES + " confirmed"), found(checks(String.format(at, "11.0")), codes(U0121)));
                    assertEquals(List.of(false), counting(answer(checks(String.format(at, "10.99")), codes(U0121))));
                    String heavy = BUILD.replace("'supplyVolts': 12", "'supplyVolts': 24");
                    assertEquals(List.of("supply.vehicle confirmed"),
                            occurrences(YARD.truck(heavy).put("A", visit(DAY, checks(String.format(at, "21.9"))))));
                    assertEquals(List.of(BRAKES + " confirmed"),
                            occurrences(YARD.truck(heavy).put("A", visit(DAY, checks(String.format(at, "22.0"))))));
                }),
                dynamicTest("4 a low supply leaves resistances and the charge air alone", () -> assertEquals(
                        List.of("charge-air.unlocated suspected", "supply.vehicle confirmed"),
                        found(checks("{'network': 'can-1', 'supplyVoltage': {'value': 9, 'unit': 'V'}}", read("as-found", 60.2)), codes(P0299)))),
                dynamicTest("4 a low-supply code alone does not change the place", () -> assertEquals(List.of(BRAKES + " suspected"),
                        found(codes(U0121, code("P0562", "engine", "active", ""))))),
                dynamicTest("4 a loss above the limit with no spot: unlocated", () -> {
                    assertEquals(List.of("charge-air.unlocated confirmed"), found(air(flow("as-found", 900))));
                    assertEquals(List.of("charge-air.core confirmed"), found(air(flow("as-found", 900), smoke("as-found", "core"))));
                }));
    }

    @TestFactory
    List<DynamicTest> moved() {
        return List.of(
                dynamicTest("4 a claimed repair of one place names the cause, the accused is kept", () -> {
                    JsonNode answer = answer(checks(call("as-found", "brakes")), repaired(TERMINATOR));
                    assertEquals(List.of(TERMINATOR + " confirmed"), occurrences(answer));
                    assertEquals("[\"" + BRAKES + "\"]", answer.at("/occurrences/0/accusedPlaces").toString());
                }),
                dynamicTest("4 the same place repaired twice is one place", () -> assertEquals(List.of(TERMINATOR + " confirmed"),
                        found(checks(call("as-found", "brakes")), repaired(TERMINATOR, TERMINATOR)))),
                dynamicTest("4 an unclaimed one, another system's or a bare system moves nothing", () -> {
                    assertEquals(List.of(BRAKES + " confirmed"),
                            found(checks(call("as-found", "brakes")), "'repairs': [" + repair(TERMINATOR, false) + "]"));
                    assertEquals(List.of(BRAKES + " confirmed"), found(checks(call("as-found", "brakes")), repaired("network.can-2.trunk")));
                    assertEquals(List.of(BRAKES + " confirmed"), found(checks(call("as-found", "brakes")), repaired("network.can-1")));
                }),
                dynamicTest("4 with several it stays where one of them is", () -> assertEquals(List.of(BRAKES + " confirmed"),
                        found(checks(call("as-found", "brakes")), repaired(TERMINATOR, BRAKES)))),
                dynamicTest("4 else it goes to the one that the suspects rank highest", () -> {
                    JsonNode answer = answer(checks(call("as-found"), read("as-found", 120.4)), repaired("network.can-1.cluster", TERMINATOR));
                    assertEquals(List.of(TERMINATOR + " confirmed"), occurrences(answer));
                }),
                dynamicTest("4 else to the first", () -> assertEquals(List.of("network.can-1.cluster suspected"),
                        found(codes(U0121), repaired("network.can-1.cluster", "network.can-1.transmission")))),
                dynamicTest("4 in the charge air only unlocated moves", () -> {
                    assertEquals(List.of("charge-air.core confirmed"), found(air(smoke("as-found", "core")), repaired("charge-air.boot")));
                    JsonNode answer = answer(air(flow("as-found", 900)), repaired("charge-air.boot"));
                    assertEquals(List.of("charge-air.boot confirmed"), occurrences(answer));
                    assertEquals("[\"charge-air.unlocated\"]", answer.at("/occurrences/0/accusedPlaces").toString());
                    assertEquals(List.of("charge-air.unlocated confirmed"),
                            found(air(flow("as-found", 900)), repaired("charge-air.boot", "charge-air.unlocated")), "it was repaired itself");
                }),
                dynamicTest("4 no fault found never moves", () -> assertEquals(List.of(BRAKES + " no-fault-found"),
                        found(codes(U0121), checks(call("as-found")), repaired("charge-air.boot")))),
                dynamicTest("4 a revision that adds the repair moves it", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit(DAY, codes(U0121)));
                    truck.put("A", visit(DAY, codes(U0121), repaired(TERMINATOR)), OptionalInt.of(1));
                    assertEquals(List.of(TERMINATOR + " repaired-unproven"), truck.trails("2026-03-02T00:00:00Z"));
                    assertFalse(truck.trails("2026-03-02T00:00:00Z").toString().contains("brakes"));
                }));
    }
}
