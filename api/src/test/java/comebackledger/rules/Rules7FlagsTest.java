package comebackledger.rules;

import static comebackledger.rules.Yard.*;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/** Section 7: the flags, each with since, expiry and grounds. */
class Rules7FlagsTest {
    private static final Yard YARD = new Yard();
    private static final String CORE = "charge-air.core";
    private static final String BRAKES = "network.can-1.brakes";
    private static final String LEAK = air(smoke("as-found", "core"));
    private static final String FIXED = air(smoke("as-found", "core"), smoke("as-left"));

    @AfterAll
    static void close() {
        YARD.close();
    }

    private static String meters(double km, double hours) {
        return "'meters': {'odometer': {'value': " + km + ", 'unit': 'km'}, 'engineHours': {'value': " + hours + ", 'unit': 'h'}}";
    }

    /** Repaired and proven in A; back in B, whose repair is released on 2026-02-01T16:00:00Z. */
    private static Yard.Truck back(String... second) {
        String[] all = java.util.Arrays.copyOf(second, second.length + 1);
        all[second.length] = meters(5000, 300);
        return YARD.truck().was("A", visit("2026-01-01T08:00:00Z", FIXED, repaired(CORE), meters(1000, 100)))
                .was("B", visit("2026-02-01T08:00:00Z", all));
    }

    @TestFactory
    List<DynamicTest> returns() {
        return List.of(
                dynamicTest("7.1 comeback: since the opening, on both visits, without expiry while the episode is open", () -> {
                    Yard.Truck truck = back(LEAK);
                    JsonNode flag = truck.flag("comeback", "2026-05-31T00:00:00Z");
                    assertEquals("2026-02-01T08:00:00Z", flag.path("since").asText());
                    assertEquals("[\"A\",\"B\"]", flag.path("grounds").toString());
                    assertEquals(CORE, flag.path("place").asText());
                    assertFalse(flag.has("expiresAt"));
                    assertEquals(List.of(), truck.flags(CORE, "2026-02-01T07:59:59Z"));
                }),
                dynamicTest("7.1 proven at once it stands to the end of its repair's window: the last second and the next", () -> {
                    Yard.Truck truck = back(FIXED, repaired(CORE));
                    assertEquals(List.of("comeback"), truck.flags(CORE, "2026-05-02T16:00:00Z"));
                    assertEquals("2026-05-02T16:00:00Z", truck.flag("comeback", "2026-03-01T00:00:00Z").path("expiresAt").asText());
                    assertEquals(List.of(), truck.flags(CORE, "2026-05-02T16:00:01Z"));
                }),
                dynamicTest("7.1 proven after the window it stands to the proof", () -> {
                    Yard.Truck truck = back(LEAK, repaired(CORE)).was("C", visit("2026-05-20T08:00:00Z", air(smoke("as-found"))));
                    assertTrue(truck.flags(CORE, "2026-05-20T07:59:59Z").contains("comeback"));
                    assertEquals(List.of("comeback"), truck.flags(CORE, "2026-05-20T08:00:00Z"));
                    assertEquals(List.of(), truck.flags(CORE, "2026-05-20T08:00:01Z"));
                }),
                dynamicTest("7.1 never proven it stands on", () -> assertTrue(back(LEAK, repaired(CORE)).flags(CORE, "2027-06-01T00:00:00Z")
                        .contains("comeback"))),
                dynamicTest("7.1 a meter read at a visit ends the window too: exactly at the limit stands, beyond ends it before the visit", () -> {
                    Yard.Truck at = back(FIXED, repaired(CORE)).was("C", visit("2026-03-01T08:00:00Z", meters(21_000, 400)));
                    assertEquals(List.of("comeback"), at.flags(CORE, "2026-03-02T00:00:00Z"));
                    Yard.Truck beyond = back(FIXED, repaired(CORE)).was("C", visit("2026-03-01T08:00:00Z", meters(21_001, 400)));
                    assertEquals(List.of("comeback"), beyond.flags(CORE, "2026-03-01T07:59:59Z"));
                    assertEquals(List.of(), beyond.flags(CORE, "2026-03-01T08:00:00Z"));
                    Yard.Truck hours = back(FIXED, repaired(CORE)).was("C", visit("2026-03-01T08:00:00Z", meters(5001, 700.1)));
                    assertEquals(List.of(), hours.flags(CORE, "2026-03-01T08:00:00Z"));
                    assertEquals(List.of("comeback"),
                            back(FIXED, repaired(CORE)).was("C", visit("2026-03-01T08:00:00Z", meters(5001, 700))).flags(CORE,
                                    "2026-03-01T08:00:00Z"));
                }),
                dynamicTest("7.1 moving: since the opening, on the repair elsewhere", () -> {
                    Yard.Truck truck = back(air(smoke("as-found", "boot")));
                    JsonNode flag = truck.flag("moving", "2026-05-31T00:00:00Z");
                    assertEquals("charge-air.boot", flag.path("place").asText());
                    assertEquals("2026-02-01T08:00:00Z", flag.path("since").asText());
                    assertEquals("[\"A\",\"B\"]", flag.path("grounds").toString());
                    assertEquals(List.of("moving"), truck.flags("charge-air.boot", "2026-05-31T00:00:00Z"));
                }),
                dynamicTest("7.1 an episode that ends quiet leaves no flag", () -> assertEquals(List.of(),
                        back(LEAK).was("C", visit("2026-03-01T08:00:00Z", air(smoke("as-found")))).flags(CORE, "2026-03-01T08:00:00Z"))));
    }

    @TestFactory
    List<DynamicTest> unproven() {
        return List.of(
                dynamicTest("7.2 unproven-fix: from the release to the end of the window, to the second", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-01-01T08:00:00Z", LEAK, repaired(CORE)));
                    assertEquals(List.of(), truck.flags(CORE, "2026-01-01T15:59:59Z"));
                    JsonNode flag = truck.flag("unproven-fix", "2026-01-01T16:00:00Z");
                    assertEquals("2026-01-01T16:00:00Z", flag.path("since").asText());
                    assertEquals("2026-04-01T16:00:00Z", flag.path("expiresAt").asText());
                    assertEquals("[\"A\"]", flag.path("grounds").toString());
                    assertEquals(List.of("unproven-fix"), truck.flags(CORE, "2026-04-01T16:00:00Z"));
                    assertEquals(List.of(), truck.flags(CORE, "2026-04-01T16:00:01Z"));
                }),
                dynamicTest("7.2 until proof", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-01-01T08:00:00Z", LEAK, repaired(CORE)))
                            .was("B", visit("2026-02-01T08:00:00Z", air(smoke("as-found"))));
                    assertEquals(List.of("unproven-fix"), truck.flags(CORE, "2026-02-01T07:59:59Z"));
                    assertEquals(List.of(), truck.flags(CORE, "2026-02-01T08:00:00Z"));
                }),
                dynamicTest("7.2 a preventive repair too", () -> assertEquals(List.of("unproven-fix"),
                        YARD.truck().was("A", visit("2026-05-01T08:00:00Z", repaired(CORE))).flags(CORE, "2026-06-01T00:00:00Z"))));
    }

    @TestFactory
    List<DynamicTest> noFaultFound() {
        String noFault = "'codes': [" + lost("U0121", "engine") + "]";
        String within = checks(call("as-found"));
        return List.of(
                dynamicTest("7.3 two within 365 days before at: the second opens it, the first's year ends it", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2025-01-01T08:00:00Z", noFault, within))
                            .was("B", visit("2025-03-01T08:00:00Z", noFault, within));
                    assertEquals(List.of(), truck.flags(BRAKES, "2025-03-01T07:59:59Z"));
                    JsonNode flag = truck.flag("no-fault-found", "2025-06-01T00:00:00Z");
                    assertEquals("2025-03-01T08:00:00Z", flag.path("since").asText());
                    assertEquals("2026-01-01T08:00:00Z", flag.path("expiresAt").asText());
                    assertEquals("[\"A\",\"B\"]", flag.path("grounds").toString());
                    assertEquals(List.of("no-fault-found"), truck.flags(BRAKES, "2026-01-01T08:00:00Z"));
                    assertEquals(List.of(), truck.flags(BRAKES, "2026-01-01T08:00:01Z"));
                }),
                dynamicTest("7.3 one, or two on different trails, raise none", () -> {
                    assertEquals(List.of(),
                            YARD.truck().was("A", visit("2026-03-01T08:00:00Z", noFault, within)).flags(BRAKES, "2026-06-01T00:00:00Z"));
                    assertEquals(List.of(), YARD.truck().was("A", visit("2026-03-01T08:00:00Z", noFault, within))
                            .was("B", visit("2026-04-01T08:00:00Z", codes(lost("U0101", "engine")), within)).flags(BRAKES, "2026-06-01T00:00:00Z"));
                }),
                dynamicTest("7.3 with a third it has stood since the second, without a break", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2025-01-01T08:00:00Z", noFault, within))
                            .was("B", visit("2025-03-01T08:00:00Z", noFault, within)).was("C", visit("2025-12-01T08:00:00Z", noFault, within));
                    assertEquals("2025-03-01T08:00:00Z", truck.flag("no-fault-found", "2026-02-01T00:00:00Z").path("since").asText());
                    assertEquals("2026-03-01T08:00:00Z", truck.flag("no-fault-found", "2026-02-01T00:00:00Z").path("expiresAt").asText());
                    assertEquals("[\"B\",\"C\"]", truck.flag("no-fault-found", "2026-02-01T00:00:00Z").path("grounds").toString());
                }),
                dynamicTest("7.3 after a break it stands since the newest", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2024-01-01T08:00:00Z", noFault, within))
                            .was("B", visit("2024-12-01T08:00:00Z", noFault, within)).was("C", visit("2025-11-01T08:00:00Z", noFault, within));
                    assertEquals("2025-11-01T08:00:00Z", truck.flag("no-fault-found", "2025-11-02T00:00:00Z").path("since").asText());
                }));
    }

    /** Readings between the lines that rise by an ohm a visit, ten days and 1 000 km apart; the usual limit above lies near 63 ohm. */
    private static Yard.Truck rising(int visits, double step) {
        Yard.Truck truck = YARD.truck();
        for (int i = 0; i < visits; i++) {
            truck.was("V" + i,
                    visit(java.time.Instant.parse("2026-03-01T08:00:00Z").plusSeconds(i * 864_000L).toString(), meters(1000 + 1000 * i, 100 + 30 * i),
                            checks(read("as-found", 60 + step * i))));
        }
        return truck;
    }

    private static List<String> drifting(Yard.Truck truck, String at) {
        List<String> flags = new java.util.ArrayList<>();
        truck.standing(at).path("flags").forEach(flag -> flags.add(flag.path("flag").asText() + " " + flag.path("place").asText()));
        return flags;
    }

    @TestFactory
    List<DynamicTest> drift() {
        return List.of(
                dynamicTest("7.6 drifting: four comparable readings that all rise, not three", () -> {
                    assertEquals(List.of("drifting network.can-1"), drifting(rising(4, 0.4), "2026-04-02T00:00:00Z"));
                    assertEquals(List.of(), drifting(rising(3, 0.4), "2026-04-02T00:00:00Z"));
                }),
                dynamicTest("7.6 readings that stay or turn are no drift", () -> {
                    assertEquals(List.of(), drifting(rising(6, 0), "2026-05-01T00:00:00Z"));
                    Yard.Truck truck = rising(4, 0.4).was("W", visit("2026-04-10T08:00:00Z", meters(5500, 230), checks(read("as-found", 60))));
                    assertEquals(List.of(), drifting(truck, "2026-04-11T00:00:00Z"));
                }),
                dynamicTest("7.6 a limit beyond the planning horizon raises none", () -> assertEquals(List.of(),
                        drifting(rising(4, 0.02), "2026-04-02T00:00:00Z"))),
                dynamicTest("7.6 readings before a repair of that system do not count", () -> {
                    Yard.Truck truck = rising(3, 0.4).was("R",
                            visit("2026-03-25T08:00:00Z", "'repairs': [" + repair("network.can-1.cluster", false) + "]"));
                    truck.was("V9", visit("2026-03-31T08:00:00Z", meters(4000, 190), checks(read("as-found", 61.2))));
                    assertEquals(List.of(), drifting(truck, "2026-04-02T00:00:00Z"));
                    Yard.Truck other = rising(3, 0.4).was("R",
                            visit("2026-03-25T08:00:00Z", "'repairs': [" + repair("charge-air.core", false) + "]"));
                    other.was("V9", visit("2026-03-31T08:00:00Z", meters(4000, 190), checks(read("as-found", 61.2))));
                    assertEquals(List.of("drifting network.can-1"), drifting(other, "2026-04-02T00:00:00Z"));
                }),
                dynamicTest("7.5 accelerating: four episodes that come ever faster, not three", () -> {
                    String[] days = {"2025-12-01", "2026-03-15", "2026-04-20", "2026-05-10", "2026-05-20", "2026-05-26"};
                    Yard.Truck truck = YARD.truck().was("S", visit("2024-01-01T08:00:00Z"));
                    for (int i = 0; i < 3; i++) {
                        truck.was("E" + i, visit(days[i + 3] + "T08:00:00Z", LEAK, repaired(CORE)));
                    }
                    assertFalse(drifting(truck, "2026-05-27T00:00:00Z").contains("accelerating charge-air"));
                    truck.was("E9", visit("2026-05-28T08:00:00Z", LEAK));
                    assertTrue(drifting(truck, "2026-05-28T09:00:00Z").contains("accelerating charge-air"),
                            drifting(truck, "2026-05-28T09:00:00Z").toString());
                    assertFalse(drifting(truck, "2029-05-28T09:00:00Z").contains("accelerating charge-air"), "years without one more");
                }));
    }
}
