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

/** Section 2: meters, and what lies between two visits. The distance between is read from the comeback that the second visit opens. */
class Rules2MetersTest {
    private static final Yard YARD = new Yard();
    private static final String AFTER = "2026-06-01T00:00:00Z";
    private static final String CORE = "charge-air.core";

    @AfterAll
    static void close() {
        YARD.close();
    }

    private static String meters(String members) {
        return "'meters': {" + members + "}";
    }

    private static String odometer(double km, String more) {
        return meters("'odometer': {'value': " + km + ", 'unit': 'km'}" + more);
    }

    private static String mended(String arrived, String meters) {
        return visit(arrived, meters, air(smoke("as-found", "core"), smoke("as-left")), repaired(CORE));
    }

    private static String found(String arrived, String meters) {
        return visit(arrived, meters, air(smoke("as-found", "core")));
    }

    private static JsonNode since(Yard.Truck truck) {
        return truck.lastEpisode(CORE, AFTER).path("sinceRepair");
    }

    @TestFactory
    List<DynamicTest> between() {
        return List.of(
                dynamicTest("2.1 differences of the life totals; days are always known", () -> {
                    JsonNode since = since(YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("B", found("2026-01-11T08:00:00Z", odometer(1800, ""))));
                    assertEquals(800, since.path("km").asDouble());
                    assertEquals(10, since.path("days").asDouble());
                    assertFalse(since.has("engineHours"));
                }),
                dynamicTest("2.1 in whatever units the two were read", () -> assertEquals(1609.344 - 1000,
                        since(YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                                .was("B", found("2026-01-11T00:00:00Z", meters("'odometer': {'value': 1000, 'unit': 'mi'}")))).path("km").asDouble(),
                        1e-9)),
                dynamicTest("2.1 a replaced meter makes the stretch unknown", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("R", visit("2026-01-05T00:00:00Z", odometer(0, ", 'odometerReplaced': true")))
                            .was("B", found("2026-01-11T00:00:00Z", odometer(300, "")));
                    assertFalse(since(truck).has("km"));
                }),
                dynamicTest("2.1 unless the visit of the replacement gives both", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("R", visit("2026-01-05T00:00:00Z",
                                    odometer(7, ", 'odometerReplaced': true, 'previousOdometer': {'value': 1500, 'unit': 'km'}")))
                            .was("B", found("2026-01-11T00:00:00Z", odometer(307, "")));
                    assertEquals(800, since(truck).path("km").asDouble());
                }),
                dynamicTest("2.1 without what the new one showed it is not both", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("R", visit("2026-01-05T00:00:00Z",
                                    meters("'odometerReplaced': true, 'previousOdometer': {'value': 1500, 'unit': 'km'}")))
                            .was("B", found("2026-01-11T00:00:00Z", odometer(307, "")));
                    assertFalse(since(truck).has("km"));
                }),
                dynamicTest("2.1 from the replacement's own visit the new meter counts", () -> assertEquals(300,
                        since(YARD.truck().was("A", mended("2026-01-05T00:00:00Z", odometer(7, ", 'odometerReplaced': true")))
                                .was("B", found("2026-01-11T00:00:00Z", odometer(307, "")))).path("km").asDouble())),
                dynamicTest("2.1 and to it the old one", () -> assertEquals(500,
                        since(YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                                .was("B", found("2026-01-11T00:00:00Z",
                                        odometer(7, ", 'odometerReplaced': true, 'previousOdometer': {'value': 1500, 'unit': 'km'}"))))
                                .path("km").asDouble())),
                dynamicTest("2.1 two replacements, both bridged", () -> {
                    String bridge = ", 'odometerReplaced': true, 'previousOdometer': {'value': %d, 'unit': 'km'}";
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("R", visit("2026-01-05T00:00:00Z", odometer(0, String.format(bridge, 1500))))
                            .was("S", visit("2026-01-08T00:00:00Z", odometer(90, String.format(bridge, 200))))
                            .was("B", found("2026-01-11T00:00:00Z", odometer(190, "")));
                    assertEquals(500 + 200 + 100, since(truck).path("km").asDouble());
                }),
                dynamicTest("2.1 likewise the hour meter", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T00:00:00Z", hours(100)))
                            .was("R", visit("2026-01-05T00:00:00Z", meters(
                                    "'engineHours': {'value': 0, 'unit': 'h'}, 'engineHoursReplaced': true, 'previousEngineHours': {'value': 120, 'unit': 'h'}")))
                            .was("B", found("2026-01-11T00:00:00Z", hours(30)));
                    assertEquals(50, since(truck).path("engineHours").asDouble());
                }),
                dynamicTest("2.2 unknown at either end is unknown, never zero", () -> {
                    assertFalse(since(YARD.truck().was("A", mended("2026-01-01T00:00:00Z", meters("")))
                            .was("B", found("2026-01-11T00:00:00Z", odometer(300, "")))).has("km"));
                    assertFalse(since(YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(300, "")))
                            .was("B", found("2026-01-11T00:00:00Z", meters("")))).has("km"));
                }));
    }

    @TestFactory
    List<DynamicTest> contradictions() {
        return List.of(
                dynamicTest("2.2 exactly 2 500 km in a day agrees, more does not", () -> {
                    assertEquals(2500, since(YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("B", found("2026-01-02T00:00:00Z", odometer(3500, "")))).path("km").asDouble());
                    assertFalse(since(YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("B", found("2026-01-02T00:00:00Z", odometer(3500.1, "")))).has("km"));
                }),
                dynamicTest("2.2 exactly 24 h in a day agrees, more does not", () -> {
                    assertEquals(48, since(YARD.truck().was("A", mended("2026-01-01T00:00:00Z", hours(100)))
                            .was("B", found("2026-01-03T00:00:00Z", hours(148)))).path("engineHours").asDouble());
                    assertFalse(since(YARD.truck().was("A", mended("2026-01-01T00:00:00Z", hours(100)))
                            .was("B", found("2026-01-03T00:00:00Z", hours(148.1)))).has("engineHours"));
                }),
                dynamicTest("2.2 one low among good ones is left out", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("X", visit("2026-01-03T00:00:00Z", odometer(12, "")))
                            .was("B", found("2026-01-11T00:00:00Z", odometer(1800, "")));
                    assertEquals(800, since(truck).path("km").asDouble());
                    assertEquals(List.of("/meters/odometer"), warnings(truck.visit("X")));
                    assertEquals(List.of(), warnings(truck.visit("A")));
                    assertEquals(List.of(), warnings(truck.visit("B")));
                }),
                dynamicTest("2.2 one high among good ones is left out", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("X", visit("2026-01-03T00:00:00Z", odometer(99_000, "")))
                            .was("B", found("2026-01-11T00:00:00Z", odometer(1800, "")));
                    assertEquals(800, since(truck).path("km").asDouble());
                    assertEquals(List.of("/meters/odometer"), warnings(truck.visit("X")));
                }),
                dynamicTest("2.2 the first of all is left out where the rest agree", () -> {
                    Yard.Truck truck = YARD.truck().was("X", visit("2025-12-01T00:00:00Z", odometer(99_000, "")))
                            .was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("B", found("2026-01-11T00:00:00Z", odometer(1800, "")));
                    assertEquals(800, since(truck).path("km").asDouble());
                    assertEquals(List.of("/meters/odometer"), warnings(truck.visit("X")));
                }),
                dynamicTest("2.2 two wrong ones that agree with each other lose to three", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")))
                            .was("X", visit("2026-01-02T00:00:00Z", odometer(70_000, "")))
                            .was("Y", visit("2026-01-03T00:00:00Z", odometer(70_100, "")))
                            .was("C", visit("2026-01-05T00:00:00Z", odometer(1300, "")))
                            .was("B", found("2026-01-11T00:00:00Z", odometer(1800, "")));
                    assertEquals(800, since(truck).path("km").asDouble());
                    assertEquals(List.of("/meters/odometer"), warnings(truck.visit("Y")));
                }),
                dynamicTest("2.2 falling and nothing says replaced: kept with a warning, the distance unknown", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(1000, "")));
                    assertEquals(List.of("/meters/odometer"), warnings(truck.put("B", found("2026-01-11T00:00:00Z", odometer(999, "")))));
                    assertFalse(since(truck).has("km"));
                    assertTrue(truck.lastEpisode(CORE, AFTER).path("comeback").asBoolean());
                }),
                dynamicTest("2.2 a late visit can show which one was wrong", () -> {
                    Yard.Truck truck = YARD.truck().was("A", mended("2026-01-01T00:00:00Z", odometer(90_000, "")))
                            .was("B", found("2026-01-11T00:00:00Z", odometer(1800, "")));
                    assertEquals(List.of("/meters/odometer"), warnings(truck.visit("B")));
                    truck.was("L", visit("2026-01-05T00:00:00Z", odometer(1500, "")));
                    assertEquals(List.of(), warnings(truck.visit("B")));
                    assertEquals(List.of("/meters/odometer"), warnings(truck.visit("A")));
                    assertFalse(since(truck).has("km"), "the repair's own reading is the one left out");
                }));
    }
}
