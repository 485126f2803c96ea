package comebackledger.rules;

import static comebackledger.rules.Yard.air;
import static comebackledger.rules.Yard.smoke;
import static comebackledger.rules.Yard.visit;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/** Section 9: what the fleet teaches about one unit, and says so. */
class Rules9BaselineTest {
    private static final String ASKED = Yard.NOW.plusSeconds(60).toString();

    /** Two years on the road, one leak, read at three visits. */
    private static Yard.Truck told(Yard yard, String group) {
        Yard.Truck truck = yard.truck(Yard.BUILD.replace("{'build'", "{'group': '" + group + "', 'inServiceAt': '2024-06-01T00:00:00Z', 'build'"));
        return truck.was("A", visit("2024-06-01T08:00:00Z", Yard.km(1000)))
                .was("B", visit("2025-06-01T08:00:00Z", Yard.km(101_000), air(smoke("as-found", "core"), smoke("as-left")),
                        Yard.repaired("charge-air.core")))
                .was("C", visit("2026-05-20T08:00:00Z", Yard.km(200_000)));
    }

    private static Yard fleet(int linehaul) {
        Yard yard = new Yard();
        for (int i = 0; i < linehaul; i++) {
            told(yard, "linehaul");
        }
        return yard;
    }

    private static JsonNode risk(Yard.Truck truck) {
        return truck.readiness(ASKED).path("risk");
    }

    @TestFactory
    List<DynamicTest> baseline() {
        return List.of(
                dynamicTest("9 with too little data it falls back to weak figures, saying so", () -> {
                    try (Yard alone = fleet(0)) {
                        JsonNode risk = risk(told(alone, "linehaul"));
                        assertTrue(risk.path("basis").asText().contains("weak figures of common practice"), risk.toString());
                    }
                }),
                dynamicTest("9 a group with data of its own is its own peer; one without leans on the fleet", () -> {
                    try (Yard yard = fleet(40)) {
                        Yard.Truck linehaul = told(yard, "linehaul");
                        Yard.Truck yardTruck = told(yard, "yard");
                        assertTrue(risk(linehaul).path("basis").asText().contains("its group"), risk(linehaul).toString());
                        assertTrue(risk(yardTruck).path("basis").asText().contains("the whole fleet"), risk(yardTruck).toString());
                    }
                }),
                dynamicTest("9 every answer that used it cites it; a rebuild learns the next one", () -> {
                    try (Yard yard = fleet(3)) {
                        Yard.Truck truck = told(yard, "linehaul");
                        assertEquals(1, truck.readiness(ASKED).path("baselineVersion").asInt(), truck.readiness(ASKED).toString());
                        assertEquals(1, truck.readiness(ASKED).path("baselineVersion").asInt(), "a question learns none");
                        yard.ledger().rebuild((_, _) -> {});
                        assertEquals(2, truck.readiness(ASKED).path("baselineVersion").asInt());
                    }
                }),
                dynamicTest("9 it is learned from all units: one more leak in the fleet raises the risk of the others", () -> {
                    try (Yard yard = fleet(12)) {
                        Yard.Truck asked = told(yard, "linehaul");
                        Yard.Truck other = told(yard, "linehaul");
                        double before = risk(asked).path("probability").asDouble();
                        for (int i = 0; i < 12; i++) {
                            other.was("L" + i, visit("2026-01-" + (10 + i) + "T08:00:00Z", air(smoke("as-found", "boot"), smoke("as-left")),
                                    Yard.repaired("charge-air.boot")));
                        }
                        yard.ledger().rebuild((_, _) -> {});
                        assertTrue(risk(asked).path("probability").asDouble() > before);
                    }
                }));
    }
}
