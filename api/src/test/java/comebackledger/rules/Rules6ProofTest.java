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

/** Section 6: proof, and the state of a trail. */
class Rules6ProofTest {
    private static final Yard YARD = new Yard();
    private static final String CORE = "charge-air.core";
    private static final String BRAKES = "network.can-1.brakes";
    private static final String AFTER = "2026-06-01T00:00:00Z";
    private static final String LEAK = air(smoke("as-found", "core"));

    @AfterAll
    static void close() {
        YARD.close();
    }

    private static String state(String place, String... members) {
        return YARD.truck().was("A", visit("2026-01-01T08:00:00Z", members)).state(place, AFTER);
    }

    /** A leak or a fault claimed fixed, and a later visit. */
    private static String later(String place, String[] first, String... second) {
        return YARD.truck().was("A", visit("2026-01-01T08:00:00Z", first)).was("B", visit("2026-02-01T08:00:00Z", second)).state(place, AFTER);
    }

    @TestFactory
    List<DynamicTest> proofs() {
        String[] silent = {checks(call("as-found", "brakes")), repaired(BRAKES)};
        String[] byReading = {checks(read("as-found", 120.4)), repaired("network.can-1.terminator-b")};
        String[] byLeak = {LEAK, repaired(CORE)};
        return List.of(
                dynamicTest("6 a passing as-left test after the repair proves it", () -> {
                    assertEquals("proven", state(CORE, air(smoke("as-found", "core"), smoke("as-left")), repaired(CORE)));
                    assertEquals("repaired-unproven", state(CORE, byLeak));
                }),
                dynamicTest("6 the proof stands at the release, not before", () -> {
                    Yard.Truck truck = YARD.truck().was("A",
                            visit("2026-01-01T08:00:00Z", air(smoke("as-found", "core"), smoke("as-left")), repaired(CORE)));
                    assertEquals("open", truck.state(CORE, "2026-01-01T15:59:59Z"));
                    assertEquals("proven", truck.state(CORE, "2026-01-01T16:00:00Z"));
                    JsonNode proof = truck.trail(CORE, AFTER).at("/proofs/0");
                    assertEquals("A", proof.path("visit").asText());
                    assertEquals("[\"/chargeAirTests/1\"]", proof.path("evidence").toString());
                }),
                dynamicTest("6 a test passed any time later with no occurrence since proves it", () -> {
                    assertEquals("proven", later(CORE, byLeak, air(smoke("as-found"))));
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-01-01T08:00:00Z", byLeak)).was("B", visit("2026-02-01T08:00:00Z", LEAK))
                            .was("C", visit("2026-03-01T08:00:00Z", air(smoke("as-found"))));
                    assertEquals("quiet", truck.state(CORE, AFTER), "it came back before it passed");
                }),
                dynamicTest("6 a silent module must answer a roll call", () -> {
                    assertEquals("repaired-unproven", later(BRAKES, silent, checks(read("as-found", 60.2))));
                    assertEquals("repaired-unproven",
                            later(BRAKES, silent, checks("{'network': 'can-1', 'rollCall': {'answered': ['engine'], 'silent': []}}")));
                    assertEquals("proven", later(BRAKES, silent, checks(call("as-found"))));
                }),
                dynamicTest("6 a reading must be read again", () -> {
                    assertEquals("repaired-unproven", later("network.can-1.terminator-b", byReading, checks(call("as-found"))));
                    assertEquals("proven", later("network.can-1.terminator-b", byReading, checks(read("as-found", 60.2))));
                }),
                dynamicTest("6 a leak needs a charge-air test, by whatever method", () -> {
                    assertEquals("repaired-unproven", later(CORE, byLeak, checks(call("as-found"))));
                    assertEquals("proven", later(CORE, byLeak, air(flow("as-found", 2))));
                    assertEquals("repaired-unproven", later(CORE, byLeak, air(flow("as-found", 2, "boot"))), "a leak elsewhere is no pass");
                }),
                dynamicTest("6 every check of that system in that stage must pass", () -> {
                    assertEquals("open",
                            state(BRAKES, checks(call("as-found", "brakes"), call("as-left"), read("as-left", 120.4)), repaired(BRAKES)));
                    assertEquals("proven",
                            state(BRAKES, checks(call("as-found", "brakes"), call("as-left"), read("as-left", 60.2)), repaired(BRAKES)));
                }),
                dynamicTest("6 an unjudged test neither passes nor fails", () -> {
                    Yard.Truck truck = YARD.truck("{}").was("A",
                            visit("2026-01-01T08:00:00Z", air(smoke("as-found", "core"), flow("as-left", 30)), repaired(CORE)));
                    assertEquals("repaired-unproven", truck.state(CORE, AFTER));
                }),
                dynamicTest("6 codes alone convict by nothing that must be repeated", () -> assertEquals("proven",
                        later(BRAKES, new String[]{codes(lost("U0121", "engine")), repaired(BRAKES)}, checks(read("as-found", 60.2))))),
                dynamicTest("6 a code of that system as left contradicts the passing test", () -> assertEquals("repaired-unproven",
                        state(BRAKES, checks(call("as-found", "brakes"), call("as-left")), repaired(BRAKES),
                                codes(code("U0121", "engine", "active", "'network': 'can-1', 'stage': 'as-left'"))))),
                dynamicTest("6 a second repair wants a proof of its own", () -> {
                    Yard.Truck truck = YARD.truck()
                            .was("A", visit("2026-01-01T08:00:00Z", air(smoke("as-found", "core"), smoke("as-left")), repaired(CORE)))
                            .was("B", visit("2026-03-01T08:00:00Z", byLeak));
                    assertEquals("repaired-unproven", truck.state(CORE, AFTER));
                }),
                dynamicTest("6 a passing as-left test in an unreleased visit proves nothing yet", () -> assertEquals("open",
                        state(CORE, air(smoke("as-found", "core"), smoke("as-left")), repaired(CORE), "unreleased"))));
    }

    @TestFactory
    List<DynamicTest> states() {
        return List.of(
                dynamicTest("6 open, suspected, no-fault-found, quiet", () -> {
                    assertEquals("open", state(CORE, LEAK));
                    assertEquals("suspected", state(BRAKES, codes(lost("U0121", "engine"))));
                    assertEquals("no-fault-found", state(BRAKES, codes(lost("U0121", "engine")), checks(call("as-found"))));
                    assertEquals("quiet", later(CORE, new String[]{LEAK}, air(smoke("as-found"))));
                }),
                dynamicTest("6 a no-fault-found after a repair leaves it as it was", () -> assertTrue(
                        later(BRAKES, new String[]{codes(lost("U0121", "engine")), repaired(BRAKES)}, codes(lost("U0121", "engine")),
                                checks(call("as-found"))).startsWith("repaired-unproven"))),
                dynamicTest("6 unproven however long ago: only evidence proves", () -> assertEquals("repaired-unproven",
                        YARD.truck().was("A", visit("2020-01-01T08:00:00Z", LEAK, repaired(CORE))).state(CORE, AFTER))),
                dynamicTest("6 before its first visit there is no trail", () -> assertFalse(
                        YARD.truck().was("A", visit("2026-01-01T08:00:00Z", LEAK)).trails("2026-01-01T07:59:59Z").contains("charge-air.core open"))));
    }
}
