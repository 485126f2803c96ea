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

/** Section 5: trails and episodes. */
class Rules5EpisodesTest {
    private static final Yard YARD = new Yard();
    private static final String CORE = "charge-air.core";
    private static final String BRAKES = "network.can-1.brakes";
    private static final String TERMINATOR = "network.can-1.terminator-b";
    private static final String AFTER = "2026-06-01T00:00:00Z";
    private static final String LEAK = air(smoke("as-found", "core"));
    private static final String U0121 = codes(lost("U0121", "engine"));

    @AfterAll
    static void close() {
        YARD.close();
    }

    private static String mended(String arrived, String... more) {
        String[] all = java.util.Arrays.copyOf(more, more.length + 2);
        all[more.length] = LEAK;
        all[more.length + 1] = repaired(CORE);
        return visit(arrived, all);
    }

    @TestFactory
    List<DynamicTest> episodes() {
        return List.of(
                dynamicTest("5.1 an occurrence opens an episode or extends the open one", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-01-01T08:00:00Z", LEAK)).was("B", visit("2026-05-01T08:00:00Z", LEAK));
                    assertEquals(1, truck.episodes(CORE, AFTER));
                    assertEquals("A", truck.lastEpisode(CORE, AFTER).path("openedBy").asText());
                    assertEquals("open", truck.state(CORE, AFTER));
                }),
                dynamicTest("5.1 a confirmed sign confirms a suspicion", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-01-01T08:00:00Z", U0121));
                    assertEquals("suspected", truck.state(BRAKES, AFTER));
                    truck.was("B", visit("2026-01-05T08:00:00Z", checks(call("as-found", "brakes"))));
                    assertEquals("open", truck.state(BRAKES, AFTER));
                    assertEquals(1, truck.episodes(BRAKES, AFTER));
                }),
                dynamicTest("5.2 a claimed repair closes at the release, not a second before", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T08:00:00Z", "'releasedAt': '2026-01-03T08:00:00Z'"));
                    assertEquals("open", truck.state(CORE, "2026-01-03T07:59:59Z"));
                    assertEquals("repaired-unproven", truck.state(CORE, "2026-01-03T08:00:00Z"));
                    assertEquals("2026-01-03T08:00:00Z", truck.lastEpisode(CORE, AFTER).path("closedAt").asText());
                    assertEquals("A", truck.lastEpisode(CORE, AFTER).path("closedBy").asText());
                }),
                dynamicTest("5.2 an unreleased visit closes nothing; a repair not claimed neither", () -> {
                    assertEquals("open", YARD.truck().was("A", mended("2026-01-01T08:00:00Z", "unreleased")).state(CORE, AFTER));
                    assertEquals("open",
                            YARD.truck().was("A", visit("2026-01-01T08:00:00Z", LEAK, "'repairs': [" + repair(CORE, false) + "]")).state(CORE,
                                    AFTER));
                }),
                dynamicTest("5.2 a later repair closes its place and the inferred places of its system, no other", () -> {
                    Yard.Truck truck = YARD.truck()
                            .was("A", visit("2026-01-01T08:00:00Z", air(flow("as-found", 900))))
                            .was("B", visit("2026-01-02T08:00:00Z", air(smoke("as-found", "core", "boot"))))
                            .was("C", visit("2026-01-03T08:00:00Z", repaired(CORE)));
                    assertEquals(List.of("charge-air.boot open", "charge-air.core repaired-unproven", "charge-air.unlocated repaired-unproven"),
                            truck.trails(AFTER));
                }),
                dynamicTest("5.2 a module named by codes alone is inferred, one that was silent is not", () -> {
                    String other = visit("2026-01-03T08:00:00Z", repaired(TERMINATOR));
                    assertEquals("repaired-unproven",
                            YARD.truck().was("A", visit("2026-01-01T08:00:00Z", U0121)).was("C", other).state(BRAKES, AFTER));
                    assertEquals("open", YARD.truck().was("A", visit("2026-01-01T08:00:00Z", checks(call("as-found", "brakes")))).was("C", other)
                            .state(BRAKES, AFTER));
                    assertEquals("suspected", YARD.truck().was("A", visit("2026-01-01T08:00:00Z", U0121))
                            .was("C", visit("2026-01-03T08:00:00Z", repaired(CORE))).state(BRAKES, AFTER), "another system's repair");
                }),
                dynamicTest("5.2 a bare system closes all of it", () -> assertEquals(
                        List.of("charge-air repaired-unproven", "charge-air.boot repaired-unproven", "charge-air.core repaired-unproven"),
                        YARD.truck().was("A", visit("2026-01-01T08:00:00Z", air(smoke("as-found", "core", "boot"))))
                                .was("B", visit("2026-01-02T08:00:00Z", repaired("charge-air"))).trails(AFTER))),
                dynamicTest("5.2 the supply by its system alone as well", () -> assertEquals(
                        List.of("supply repaired-unproven", "supply.vehicle repaired-unproven"),
                        YARD.truck()
                                .was("A", visit("2026-01-01T08:00:00Z", checks("{'network': 'can-1', 'supplyVoltage': {'value': 10, 'unit': 'V'}}"),
                                        repaired("supply")))
                                .trails(AFTER))),
                dynamicTest("5.2 refuted at the bench the episode stays open and the attempt is kept", () -> {
                    Yard.Truck truck = YARD.truck().was("A",
                            visit("2026-01-01T08:00:00Z", air(smoke("as-found", "core"), smoke("as-left", "core")), repaired(CORE)));
                    assertEquals("open", truck.state(CORE, AFTER));
                    assertEquals("[\"A\"]", truck.lastEpisode(CORE, AFTER).path("failedAtBench").toString());
                    truck.was("B", mended("2026-01-02T08:00:00Z"));
                    assertEquals(1, truck.episodes(CORE, AFTER), "still one episode");
                    assertEquals("repaired-unproven", truck.state(CORE, AFTER));
                    assertFalse(truck.lastEpisode(CORE, AFTER).path("comeback").asBoolean());
                }),
                dynamicTest("5.2 another system's failing as-left test refutes nothing", () -> assertEquals("repaired-unproven",
                        YARD.truck().was("A", visit("2026-01-01T08:00:00Z", LEAK, repaired(CORE), checks(call("as-left", "brakes")))).state(CORE,
                                AFTER))),
                dynamicTest("5.3 a preventive repair: a trail with a repair and no episode, and a repeat window", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-05-01T08:00:00Z", repaired(CORE)));
                    assertEquals(0, truck.episodes(CORE, AFTER));
                    assertEquals("repaired-unproven", truck.state(CORE, AFTER));
                    assertTrue(truck.was("B", visit("2026-05-10T08:00:00Z", LEAK)).lastEpisode(CORE, AFTER).path("comeback").asBoolean());
                }),
                dynamicTest("5.5 a sign before the repairing visit was released is of the episode it closed; at the release it is new", () -> {
                    String mended = mended("2026-01-01T08:00:00Z", "'releasedAt': '2026-01-03T08:00:00Z'");
                    Yard.Truck before = YARD.truck().was("A", mended).was("B", visit("2026-01-03T07:59:59Z", LEAK));
                    assertEquals(1, before.episodes(CORE, AFTER));
                    assertEquals("repaired-unproven", before.state(CORE, AFTER));
                    Yard.Truck at = YARD.truck().was("A", mended).was("B", visit("2026-01-03T08:00:00Z", LEAK));
                    assertEquals(2, at.episodes(CORE, AFTER));
                    assertTrue(at.lastEpisode(CORE, AFTER).path("comeback").asBoolean());
                }),
                dynamicTest("5.5 so it is where the repair found nothing open when its visit arrived", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-01-01T08:00:00Z", repaired(CORE), "'releasedAt': '2026-01-05T08:00:00Z'"))
                            .was("B", visit("2026-01-03T08:00:00Z", LEAK));
                    assertEquals("open", truck.state(CORE, "2026-01-05T07:59:59Z"));
                    assertEquals("repaired-unproven", truck.state(CORE, "2026-01-05T08:00:00Z"));
                    assertFalse(truck.lastEpisode(CORE, AFTER).path("comeback").asBoolean());
                    assertTrue(truck.was("C", visit("2026-01-09T08:00:00Z", air(smoke("as-found", "boot")))).lastEpisode("charge-air.boot", AFTER)
                            .path("moving").asBoolean(), "it was no preventive repair");
                }),
                dynamicTest("5.6 no-fault-found closes at once, starts no window and is no comeback", () -> {
                    String noFault = visit("2026-01-05T08:00:00Z", U0121, checks(call("as-found")));
                    Yard.Truck truck = YARD.truck().was("A", noFault);
                    assertEquals("no-fault-found", truck.state(BRAKES, AFTER));
                    assertEquals("2026-01-05T08:00:00Z", truck.lastEpisode(BRAKES, AFTER).path("closedAt").asText());
                    truck.was("B", visit("2026-01-09T08:00:00Z", U0121));
                    assertFalse(truck.lastEpisode(BRAKES, AFTER).path("comeback").asBoolean());
                    Yard.Truck mended = YARD.truck().was("A", visit("2026-01-01T08:00:00Z", U0121, repaired(BRAKES))).was("B", noFault);
                    assertEquals(2, mended.episodes(BRAKES, AFTER));
                    assertFalse(mended.lastEpisode(BRAKES, AFTER).path("comeback").asBoolean());
                }),
                dynamicTest("5.6 nor does it extend an open episode", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-01-01T08:00:00Z", U0121))
                            .was("B", visit("2026-01-05T08:00:00Z", U0121, checks(call("as-found"))));
                    assertEquals(2, truck.episodes(BRAKES, AFTER));
                }));
    }

    @TestFactory
    List<DynamicTest> quiet() {
        String suspected = visit("2025-10-01T00:00:00Z", U0121,
                "'meters': {'odometer': {'value': 1000, 'unit': 'km'}, 'engineHours': {'value': 100, 'unit': 'h'}}");
        return List.of(
                dynamicTest("5.4 a suspicion falls quiet: 180 days exactly stays, one second more closes", () -> {
                    Yard.Truck truck = YARD.truck().was("A", suspected);
                    assertEquals("suspected", truck.state(BRAKES, "2026-03-30T00:00:00Z"));
                    assertEquals("quiet", truck.state(BRAKES, "2026-03-30T00:00:01Z"));
                    assertEquals("2026-03-30T00:00:00Z", truck.lastEpisode(BRAKES, AFTER).path("closedAt").asText());
                }),
                dynamicTest("5.4 by distance: 40 000 km exactly stays, more closes at the visit that read it", () -> {
                    assertEquals("suspected", YARD.truck().was("A", suspected).was("B", visit("2025-12-01T00:00:00Z", km(41_000)))
                            .state(BRAKES, "2025-12-02T00:00:00Z"));
                    Yard.Truck truck = YARD.truck().was("A", suspected).was("B", visit("2025-12-01T00:00:00Z", km(41_000.1)));
                    assertEquals("quiet", truck.state(BRAKES, "2025-12-02T00:00:00Z"));
                    assertEquals("suspected", truck.state(BRAKES, "2025-11-30T00:00:00Z"), "before the visit nobody knew");
                    assertEquals("B", truck.lastEpisode(BRAKES, AFTER).path("closedBy").asText());
                }),
                dynamicTest("5.4 by hours: 1 000 h exactly stays, more closes", () -> {
                    assertEquals("suspected", YARD.truck().was("A", suspected).was("B", visit("2025-12-01T00:00:00Z", hours(1100)))
                            .state(BRAKES, "2025-12-02T00:00:00Z"));
                    assertEquals("quiet", YARD.truck().was("A", suspected).was("B", visit("2025-12-01T00:00:00Z", hours(1100.1)))
                            .state(BRAKES, "2025-12-02T00:00:00Z"));
                }),
                dynamicTest("5.4 a sign within the window starts it again; after it, it is a new episode", () -> {
                    Yard.Truck within = YARD.truck().was("A", suspected).was("B", visit("2026-03-30T00:00:00Z", U0121));
                    assertEquals(1, within.episodes(BRAKES, AFTER));
                    assertEquals("suspected", within.state(BRAKES, AFTER));
                    Yard.Truck after = YARD.truck().was("A", suspected).was("B", visit("2026-03-30T00:00:01Z", U0121));
                    assertEquals(2, after.episodes(BRAKES, AFTER));
                    Yard.Truck byKm = YARD.truck().was("A", suspected).was("B", visit("2025-12-01T00:00:00Z", U0121, km(41_001)));
                    assertEquals(2, byKm.episodes(BRAKES, AFTER));
                }),
                dynamicTest("5.4 a confirmed one never falls quiet by waiting", () -> assertEquals("open",
                        YARD.truck().was("A", visit("2020-01-01T00:00:00Z", LEAK, km(1))).was("B", visit("2022-01-01T00:00:00Z", km(90_000)))
                                .state(CORE, AFTER))),
                dynamicTest("5.4 a later passing test ends it as quiet, with that test as grounds", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-01-01T08:00:00Z", LEAK))
                            .was("B", visit("2026-02-01T08:00:00Z", air(smoke("as-found"))));
                    assertEquals("open", truck.state(CORE, "2026-02-01T07:59:59Z"));
                    assertEquals("quiet", truck.state(CORE, "2026-02-01T08:00:00Z"));
                    assertEquals("B", truck.lastEpisode(CORE, AFTER).path("closedBy").asText());
                }),
                dynamicTest("5.4 a passing test ends a suspicion too", () -> assertEquals("quiet",
                        YARD.truck().was("A", visit("2026-01-01T08:00:00Z", U0121)).was("B", visit("2026-02-01T08:00:00Z", checks(call("as-found"))))
                                .state(BRAKES, AFTER))),
                dynamicTest("5.4 but not one of another system, nor one with codes of its own", () -> {
                    Yard.Truck truck = YARD.truck().was("A", visit("2026-01-01T08:00:00Z", LEAK));
                    assertEquals("open", truck.was("B", visit("2026-02-01T08:00:00Z", checks(call("as-found")))).state(CORE, AFTER));
                    assertEquals("open",
                            truck.was("C", visit("2026-02-02T08:00:00Z", air(smoke("as-found")), codes(code("P0299", "engine", "active", ""))))
                                    .state(CORE, AFTER));
                }),
                dynamicTest("5.4 the fleet's own window", () -> {
                    try (Yard strict = new Yard()) {
                        strict.policy("{'quietWindow': {'days': 10}}", 0);
                        Yard.Truck truck = strict.truck().was("A", suspected);
                        assertEquals("suspected", truck.state(BRAKES, "2025-10-11T00:00:00Z"));
                        assertEquals("quiet", truck.state(BRAKES, "2025-10-11T00:00:01Z"));
                    }
                }));
    }

    private static Yard.Truck returned(String second) {
        return YARD.truck().was("A", mended("2026-01-01T08:00:00Z",
                "'meters': {'odometer': {'value': 1000, 'unit': 'km'}, 'engineHours': {'value': 100, 'unit': 'h'}}")).was("B", second);
    }

    private static boolean comeback(String second) {
        return returned(second).lastEpisode(CORE, AFTER).path("comeback").asBoolean();
    }

    @TestFactory
    List<DynamicTest> comebacks() {
        return List.of(
                dynamicTest("5.7 inside the window by days: 90 from the release exactly, a second more is outside", () -> {
                    assertTrue(comeback(visit("2026-04-01T16:00:00Z", LEAK)));
                    assertFalse(comeback(visit("2026-04-01T16:00:01Z", LEAK)));
                }),
                dynamicTest("5.7 by distance: 16 000 km exactly", () -> {
                    assertTrue(comeback(visit("2026-02-01T16:00:00Z", LEAK, km(17_000))));
                    assertFalse(comeback(visit("2026-02-01T16:00:00Z", LEAK, km(17_000.1))));
                }),
                dynamicTest("5.7 by hours: 400 h exactly", () -> {
                    assertTrue(comeback(visit("2026-02-01T16:00:00Z", LEAK, hours(500))));
                    assertFalse(comeback(visit("2026-02-01T16:00:00Z", LEAK, hours(500.1))));
                }),
                dynamicTest("5.7 an unknown measure neither ends nor keeps it", () -> assertTrue(comeback(visit("2026-02-01T16:00:00Z", LEAK)))),
                dynamicTest("5.7 the episode says after which repair, and what passed since", () -> {
                    JsonNode episode = returned(visit("2026-01-11T16:00:00Z", LEAK, km(1800))).lastEpisode(CORE, AFTER);
                    assertEquals("A", episode.path("after").asText());
                    assertEquals(10, episode.path("sinceRepair").path("days").asDouble());
                    assertEquals(800, episode.path("sinceRepair").path("km").asDouble());
                    assertFalse(episode.path("moving").asBoolean());
                }),
                dynamicTest("5.7 a suspected episode counts, no-fault-found does not", () -> {
                    String fixed = visit("2026-01-01T08:00:00Z", U0121, repaired(BRAKES));
                    assertTrue(YARD.truck().was("A", fixed).was("B", visit("2026-01-09T08:00:00Z", U0121)).lastEpisode(BRAKES, AFTER).path("comeback")
                            .asBoolean());
                }),
                dynamicTest("5.7 a repair not claimed, refuted or unreleased starts no window", () -> {
                    String again = visit("2026-01-20T08:00:00Z", LEAK);
                    String pass = visit("2026-01-10T08:00:00Z", air(smoke("as-found")));
                    for (String first : List.of(visit("2026-01-01T08:00:00Z", LEAK, "'repairs': [" + repair(CORE, false) + "]"),
                            visit("2026-01-01T08:00:00Z", air(smoke("as-left", "core")), repaired(CORE)),
                            mended("2026-01-01T08:00:00Z", "unreleased"))) {
                        Yard.Truck truck = YARD.truck().was("A", first).was("B", pass).was("C", again);
                        assertEquals(2, truck.episodes(CORE, AFTER), first);
                        assertFalse(truck.lastEpisode(CORE, AFTER).path("comeback").asBoolean(), first);
                    }
                }),
                dynamicTest("5.7 the latest repair decides, not the first", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2025-11-01T08:00:00Z")).was("B", visit("2026-01-01T08:00:00Z", repaired(CORE)))
                            .was("C", visit("2026-02-01T08:00:00Z", LEAK));
                    assertEquals("B", truck.lastEpisode(CORE, AFTER).path("after").asText());
                    assertTrue(truck.lastEpisode(CORE, AFTER).path("comeback").asBoolean());
                }),
                dynamicTest("5.7 moving: on another place of the system, after a repair that closed an episode", () -> {
                    String elsewhere = visit("2026-01-20T08:00:00Z", air(smoke("as-found", "boot")));
                    JsonNode moved = YARD.truck().was("A", mended("2026-01-01T08:00:00Z")).was("B", elsewhere).lastEpisode("charge-air.boot", AFTER);
                    assertTrue(moved.path("moving").asBoolean());
                    assertFalse(moved.path("comeback").asBoolean());
                    assertEquals("A", moved.path("after").asText());
                    assertFalse(YARD.truck().was("A", visit("2026-01-01T08:00:00Z", repaired(CORE))).was("B", elsewhere)
                            .lastEpisode("charge-air.boot", AFTER).path("moving").asBoolean(), "a preventive one");
                    assertFalse(YARD.truck().was("A", mended("2025-10-01T08:00:00Z")).was("B", elsewhere).lastEpisode("charge-air.boot", AFTER)
                            .path("moving").asBoolean(), "outside the window");
                    assertFalse(YARD.truck().was("A", mended("2026-01-01T08:00:00Z")).was("B", visit("2026-01-20T08:00:00Z", U0121))
                            .lastEpisode(BRAKES, AFTER).path("moving").asBoolean(), "another system");
                }),
                dynamicTest("5.7 both stand when a later repair elsewhere closed an episode too", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T08:00:00Z"))
                            .was("B", visit("2026-01-10T08:00:00Z", air(smoke("as-found", "boot")), repaired("charge-air.boot")))
                            .was("C", visit("2026-01-20T08:00:00Z", LEAK));
                    JsonNode episode = truck.lastEpisode(CORE, AFTER);
                    assertTrue(episode.path("comeback").asBoolean());
                    assertTrue(episode.path("moving").asBoolean());
                    assertEquals("A", episode.path("after").asText());
                    assertEquals(List.of("comeback", "moving"), truck.flags(CORE, "2026-01-21T00:00:00Z"));
                }),
                dynamicTest("5.7 a bare-system repair is a repair of each place it closed", () -> assertTrue(
                        YARD.truck().was("A", visit("2026-01-01T08:00:00Z", LEAK)).was("B", visit("2026-01-02T08:00:00Z", repaired("charge-air")))
                                .was("C", visit("2026-01-20T08:00:00Z", LEAK)).lastEpisode(CORE, AFTER).path("comeback").asBoolean())),
                dynamicTest("5.7 late paperwork: the repair arrives after the occurrence", () -> {
                    Yard.Truck truck = YARD.truck().was("B", visit("2026-01-20T08:00:00Z", LEAK)).was("A", mended("2026-01-01T08:00:00Z"));
                    assertTrue(truck.lastEpisode(CORE, AFTER).path("comeback").asBoolean());
                    truck.put("A", visit("2026-01-01T08:00:00Z", "'void': true"), OptionalInt.of(1));
                    assertFalse(truck.lastEpisode(CORE, AFTER).path("comeback").asBoolean());
                }));
    }
}
