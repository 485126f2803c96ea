package comebackledger.rules;

import static comebackledger.rules.Yard.*;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/** Section 1: taking evidence in. */
class Rules1EvidenceTest {
    private static final Yard YARD = new Yard();
    private static final String DAY = "2026-03-01T08:00:00Z";

    @AfterAll
    static void close() {
        YARD.close();
    }

    private static void refused(String pointer, String json) {
        assertEquals(List.of(pointer), YARD.truck().refused("A", json));
    }

    private static void taken(String json) {
        assertEquals(List.of(), YARD.truck().refused("A", json));
    }

    private static List<String> warned(String json) {
        return warnings(YARD.truck().put("A", json));
    }

    @TestFactory
    List<DynamicTest> impossible() {
        return List.of(
                dynamicTest("1.1 wrong kind of unit of measure", () -> {
                    refused("/meters/odometer/unit", visit(DAY, "'meters': {'odometer': {'value': 5, 'unit': 'psi'}}"));
                    taken(visit(DAY, "'meters': {'odometer': {'value': 5, 'unit': 'mi'}}"));
                }),
                dynamicTest("1.1 negative where it cannot be", () -> {
                    refused("/meters/odometer/value", visit(DAY, km(-0.1)));
                    taken(visit(DAY, km(0)));
                }),
                dynamicTest("1.1 a number that is not finite", () -> refused("/meters/odometer/value",
                        visit(DAY, "'meters': {'odometer': {'value': 1e400, 'unit': 'km'}}"))),
                dynamicTest("1.1 released before arrived; at the same instant it may be", () -> {
                    refused("/releasedAt", visit(DAY, "'releasedAt': '2026-03-01T07:59:59Z'"));
                    taken(visit(DAY, "'releasedAt': '2026-03-01T09:00:00+01:00'"));
                }),
                dynamicTest("1.1 arrival and release at most one hour ahead of the clock", () -> {
                    taken(visit("2026-06-01T01:00:00Z", "unreleased"));
                    refused("/arrivedAt", visit("2026-06-01T01:00:01Z", "unreleased"));
                    taken(visit(DAY, "'releasedAt': '2026-06-01T01:00:00Z'"));
                    refused("/releasedAt", visit(DAY, "'releasedAt': '2026-06-01T01:00:01Z'"));
                }),
                dynamicTest("1.1 a module in both lists of a roll call", () -> refused("/busChecks/0/rollCall/silent/0",
                        visit(DAY, checks("{'network': 'can-1', 'rollCall': {'answered': ['brakes'], 'silent': ['brakes']}}")))),
                dynamicTest("1.1 claimsFixed with action none; left out it is false", () -> {
                    refused("/repairs/0/claimsFixed", visit(DAY, "'repairs': [{'place': 'charge-air.core', 'action': 'none', 'claimsFixed': true}]"));
                    taken(visit(DAY, "'repairs': [{'place': 'charge-air.core', 'action': 'none'}]"));
                    assertEquals(List.of(), YARD.truck().was("A", visit(DAY, "'repairs': [{'place': 'charge-air.core', 'action': 'replaced'}]"))
                            .trails("2026-05-01T00:00:00Z"));
                }),
                dynamicTest("1.1 unknown words, all faults at once", () -> assertEquals(List.of("/codes/0/status", "/repairs/0/action"),
                        YARD.truck().refused("A", visit(DAY, codes("{'code': 'U0121', 'status': 'sleeping'}"),
                                "'repairs': [{'place': 'charge-air.core', 'action': 'blessed'}]")))),
                dynamicTest("1.1 nothing of a refused visit is stored", () -> {
                    Yard.Truck truck = YARD.truck();
                    truck.refused("A", visit(DAY, km(-1)));
                    assertEquals(List.of("never-seen"), truck.reasons("2026-06-02T00:00:00Z"));
                }));
    }

    @TestFactory
    List<DynamicTest> contradicting() {
        return List.of(
                dynamicTest("1.2 an odometer lower than an earlier visit's; the same is no contradiction", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-02-01T08:00:00Z", km(1000)));
                    assertEquals(List.of(), warnings(truck.put("B", visit("2026-02-02T08:00:00Z", km(1000)))));
                    assertEquals(List.of("/meters/odometer"), warnings(truck.put("C", visit("2026-02-03T08:00:00Z", km(999)))));
                }),
                dynamicTest("1.2 an odometer higher than a later visit's", () -> {
                    Yard.Truck truck = YARD.truck().was("B", visit("2026-02-02T08:00:00Z", km(1000)))
                            .was("C", visit("2026-02-03T08:00:00Z", km(1100)));
                    assertEquals(List.of("/meters/odometer"), warnings(truck.put("A", visit("2026-02-01T08:00:00Z", km(1101)))));
                }),
                dynamicTest("1.2 of two that contradict each other the one that is sent last is warned of too, and names the other", () -> {
                    Yard.Truck truck = YARD.truck().was("B", visit("2026-02-11T08:00:00Z", km(100_000)));
                    var late = truck.put("A", visit("2026-02-06T08:00:00Z", km(100_500)));
                    assertEquals(List.of("/meters/odometer"), warnings(late));
                    assertTrue(late.at("/warnings/0/detail").asText().startsWith("100 500 km is above the 100 000 km of the later B."),
                            late.toString());
                    var higher = truck.put("C", visit("2026-02-16T08:00:00Z", km(101_000)));
                    assertEquals(List.of(), warnings(higher));
                    var faster = truck.put("D", visit("2026-02-18T08:00:00Z", km(106_001)));
                    assertTrue(faster.at("/warnings/0/detail").asText()
                            .startsWith("106 001 km is above the 101 000 km of the earlier C by more than 2 500 km a day."), faster.toString());
                }),
                dynamicTest("1.2 an hour meter likewise; a replaced one contradicts nothing", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-02-01T08:00:00Z", hours(50)));
                    assertEquals(List.of("/meters/engineHours"), warnings(truck.put("B", visit("2026-02-02T08:00:00Z", hours(49)))));
                    assertEquals(List.of(), warnings(truck.put("C",
                            visit("2026-02-03T08:00:00Z", "'meters': {'engineHours': {'value': 1, 'unit': 'h'}, 'engineHoursReplaced': true}"))));
                }),
                dynamicTest("1.2 names the build lacks are warned of and keep their trail", () -> {
                    Yard.Truck truck = YARD.truck();
                    assertEquals(List.of("/busChecks/0/rollCall/silent/0"),
                            warnings(truck.put("A", visit(DAY, checks(call("as-found", "winch"))))));
                    assertEquals("open", truck.state("network.can-1.winch", "2026-03-02T00:00:00Z"));
                    assertEquals(List.of("/busChecks/0/network"),
                            warned(visit(DAY, checks("{'network': 'can-9', 'rollCall': {'answered': [], 'silent': ['winch']}}"))));
                    assertEquals(List.of("/chargeAirTests/0/leaksAt/0"), warned(visit(DAY, air(smoke("as-found", "horn")))));
                    assertEquals(List.of(), warned(visit(DAY, air(smoke("as-found", "core")))));
                }),
                dynamicTest("1.2 without a list in the build nothing contradicts it", () -> assertEquals(List.of(),
                        warnings(YARD.truck("{}").put("A", visit(DAY, checks(call("as-found", "winch")), air(smoke("as-found", "horn"))))))),
                dynamicTest("1.2 a resistance check with the power on is invalid", () -> {
                    var answer = YARD.truck().put("A", visit(DAY, checks(read("as-found", 120.4).replace("'off'", "'on'"))));
                    assertEquals("invalid", answer.at("/judgements/0/verdict").asText());
                    assertEquals(List.of("/busChecks/0/power"), warnings(answer));
                    assertEquals(List.of(), occurrences(answer));
                }),
                dynamicTest("1.2 a test pressure above the build's limit", () -> {
                    String over = flow("as-found", 4).replace("'value': 15,", "'value': 20.1,");
                    var answer = YARD.truck().put("A", visit(DAY, air(over)));
                    assertEquals(List.of("/chargeAirTests/0/testPressure"), warnings(answer));
                    assertTrue(answer.at("/judgements/0/result/cautions").toString().length() > 4, answer.toString());
                    assertEquals(List.of(), warned(visit(DAY, air(over.replace("20.1", "20.0")))));
                }),
                dynamicTest("1.2 an as-left test without a repair is read as as-found", () -> {
                    var alone = YARD.truck().put("A", visit(DAY, air(smoke("as-left", "core"))));
                    assertEquals(List.of("/chargeAirTests/0/stage"), warnings(alone));
                    String code = codes(code("P0299", "engine", "active", ""));
                    assertEquals(List.of("charge-air.unlocated no-fault-found"), occurrences(YARD.truck().put("A", visit(DAY, code,
                            air(smoke("as-left"))))));
                    assertEquals(List.of("charge-air.unlocated suspected"), occurrences(YARD.truck().put("A", visit(DAY, code,
                            air(smoke("as-left")), "'repairs': [" + repair("network.can-1.brakes", false) + "]"))));
                }),
                dynamicTest("1.2 the same visit identifier on another unit", () -> {
                    Yard.Truck one = YARD.truck();
                    one.was("SHARED-1", visit(DAY));
                    assertEquals(1, warnings(YARD.truck().put("SHARED-1", visit(DAY))).size());
                    assertEquals(1, warnings(one.visit("SHARED-1")).size());
                    assertEquals(List.of(), warned(visit(DAY)).stream().filter(pointer -> !pointer.isEmpty()).toList());
                }));
    }

    @TestFactory
    List<DynamicTest> kept() {
        return List.of(
                dynamicTest("1.3 a visit of times alone is a sign of life", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2025-06-01T08:00:00Z"));
                    assertEquals(List.of("evidence-too-old"), truck.reasons("2026-06-01T00:00:00Z"));
                    assertEquals(List.of(), truck.was("B", visit(DAY, km(100))).reasons("2026-06-01T00:00:00Z"));
                }),
                dynamicTest("1.4 numbers by value and times by instant are the same content", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-03-01T08:00:00Z", km(100)));
                    assertEquals(1,
                            truck.put("A", "{'meters': {'odometer': {'unit': 'km', 'value': 1.00e2}},  'releasedAt': '2026-03-01T17:00:00+01:00',"
                                    + " 'arrivedAt': '2026-03-01T08:00:00.000Z'}").path("revision").asInt());
                    assertTrue(truck.send("A", visit("2026-03-01T08:00:00Z", km(101)), java.util.OptionalInt.empty())
                            .toString().startsWith("RevisionRequired"));
                    assertEquals(2, truck.put("A", visit("2026-03-01T08:00:00Z", km(101)), java.util.OptionalInt.of(1)).path("revision").asInt());
                }),
                dynamicTest("1.4 evidence is kept as sent, to the digit", () -> {
                    Yard.Truck truck = YARD.truck().was("A",
                            "{'arrivedAt': '2026-03-01T09:00:00+01:00', 'note': 'x', 'meters': {'odometer': {'value': 1.50, 'unit': 'mi'}}}");
                    String kept = truck.kept("A");
                    assertTrue(kept.contains("1.50") && kept.contains("09:00:00+01:00"), kept);
                }),
                dynamicTest("1.4 withdrawn it counts as if never made, and can come back", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit(DAY, air(smoke("as-found", "core"))));
                    truck.put("A", visit(DAY, "'void': true"), java.util.OptionalInt.of(1));
                    assertEquals(List.of("never-seen"), truck.reasons("2026-06-01T00:00:00Z"));
                    assertEquals(List.of(), truck.trails("2026-06-01T00:00:00Z"));
                    truck.put("A", visit(DAY, air(smoke("as-found", "core"))), java.util.OptionalInt.of(2));
                    assertEquals(List.of("charge-air.core open"), truck.trails("2026-06-01T00:00:00Z"));
                }),
                dynamicTest("1.5 by arrival, then by identifier, in whatever order received", () -> {
                    String found = visit(DAY, air(smoke("as-found", "core")));
                    String mended = visit(DAY, repaired("charge-air.core"));
                    assertEquals("repaired-unproven", YARD.truck().was("B", mended).was("A", found).state("charge-air.core", "2026-03-03T00:00:00Z"));
                    // The repair comes first by its identifier, and its visit is not yet released: the fault is the one it ends.
                    assertEquals("repaired-unproven", YARD.truck().was("B", found).was("A", mended).state("charge-air.core", "2026-03-03T00:00:00Z"));
                    assertEquals(1, YARD.truck().was("B", found).was("A", mended).episodes("charge-air.core", "2026-03-03T00:00:00Z"));
                }),
                dynamicTest("1.5 as-found, then repairs, then as-left, wherever they stand in the lists", () -> assertEquals("proven",
                        YARD.truck().was("A", visit(DAY, air(smoke("as-left"), smoke("as-found", "core")), repaired("charge-air.core")))
                                .state("charge-air.core", "2026-03-03T00:00:00Z"))),
                dynamicTest("1.5 of several tests of one kind in one stage the last listed decides", () -> {
                    assertEquals(List.of(), occurrences(YARD.truck().put("A", visit(DAY, air(smoke("as-found", "core"), smoke("as-found"))))));
                    assertEquals(List.of("charge-air.core confirmed"),
                            occurrences(YARD.truck().put("A", visit(DAY, air(smoke("as-found"), smoke("as-found", "core"))))));
                    assertEquals(List.of(), occurrences(YARD.truck().put("A", visit(DAY, checks(call("as-found", "brakes"), call("as-found"))))));
                }),
                dynamicTest("1.5 an invalid test counts as not made", () -> {
                    String invalid = read("as-found", 120.4).replace("'off'", "'on'");
                    assertEquals(List.of("network.can-1.brakes suspected"),
                            occurrences(YARD.truck().put("A", visit(DAY, checks(invalid), codes(lost("U0121", "engine"))))));
                    assertEquals(List.of(), occurrences(YARD.truck().put("A", visit(DAY, checks(read("as-found", 60.2), invalid)))));
                }),
                dynamicTest("1.6 identifiers are case-sensitive", () -> {
                    Yard.Truck truck = YARD.truck().was("wo-1", visit(DAY)).was("WO-1", visit(DAY));
                    assertEquals(2, truck.readiness("2026-06-02T00:00:00Z").at("/basedOn/visits").asInt());
                }),
                dynamicTest("1.6 a repair elsewhere is kept and makes no trail", () -> {
                    Yard.Truck truck = YARD.truck();
                    assertEquals(List.of("/repairs/0/place"), warnings(truck.put("A", visit(DAY, repaired("door.left")))));
                    assertEquals(List.of(), truck.trails("2026-03-02T00:00:00Z"));
                    assertFalse(truck.was("B", visit("2026-03-02T00:00:00Z", repaired("charge-air"))).trails("2026-04-01T00:00:00Z").isEmpty());
                    assertEquals(List.of(), warned(visit(DAY, repaired("charge-air.core", "network.can-1.brakes", "network.can-1"))));
                }));
    }
}
