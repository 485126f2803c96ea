package comebackledger.rules;

import static comebackledger.rules.Yard.air;
import static comebackledger.rules.Yard.smoke;
import static comebackledger.rules.Yard.visit;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Faults;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Problem;
import comebackledger.openapi.calculation.RateComparisonMapping;
import java.io.IOException;
import java.io.InputStream;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/**
 * Every case of the fleet practice reference through the ledger; the cases and their sources stand in {@code fleet_practice.json}. A case that the
 * ledger cannot answer, because it is the carrier's own duty, is held against what the ledger keeps for it.
 */
class FleetPracticeTest {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final Yard YARD = new Yard();
    private static final String CORE = "charge-air.core";
    private static final String DAY = "2026-05-30T08:00:00Z";
    private static final String ASKED = "2026-06-01T00:00:00Z";

    @AfterAll
    static void close() {
        YARD.close();
    }

    @TestFactory
    List<DynamicTest> cases() throws IOException {
        List<DynamicTest> tests = new ArrayList<>();
        try (InputStream file = Objects.requireNonNull(FleetPracticeTest.class.getResourceAsStream("fleet_practice.json"))) {
            for (JsonNode one : JSON.readTree(file)) {
                String id = one.path("id").asText();
                tests.add(dynamicTest(id + " " + one.path("topic").asText(), () -> holds(id, one.path("inputs"), one.path("expected"))));
            }
        }
        assertEquals(32, tests.size());
        return tests;
    }

    private static void holds(String id, JsonNode inputs, JsonNode expected) throws IOException {
        switch (id.substring(0, 3)) {
            case "FLT" -> practice(id, inputs, expected);
            case "CBW" -> window(inputs, expected);
            case "LMP" -> lamps(inputs, expected);
            case "RTE" -> rates(inputs, expected);
            default -> fail("no test for " + id);
        }
    }

    // 49 CFR 396.

    private static void practice(String id, JsonNode inputs, JsonNode expected) {
        switch (id) {
            case "FLT-01", "FLT-02" -> {
                Yard.Truck truck = YARD.truck().was("A", visit(DAY, "'outOfService': {'declared': " + inputs.path("markedOutOfService")
                        + ", 'requiredRepairsCompleted': " + inputs.path("allRequiredRepairsCompleted") + "}"));
                mayOperate(truck, "out-of-service", expected);
            }
            case "FLT-04", "FLT-05" -> {
                String certification = inputs.path("certifiedRepaired").asBoolean()
                        ? ", 'certification': 'repaired'"
                        : inputs.path("certifiedRepairUnnecessary").asBoolean() ? ", 'certification': 'repair-unnecessary'" : "";
                mayOperate(YARD.truck().was("A", visit(DAY, "'driverReport': {'defects': ['brake lamp']" + certification + "}")),
                        "reported-defect-uncertified", expected);
            }
            case "FLT-07" -> {
                Yard.Truck truck = YARD.truck().was("A", visit(DAY, "'driverReport': {'defects': []}"));
                assertTrue(truck.kept("A").contains("driverReport"), "a report without a defect is kept as well");
                assertEquals(List.of(), truck.reasons(ASKED));
            }
            case "FLT-08" -> {
                Yard.Truck truck = YARD.truck().was("A", visit(DAY, "'driverReport': {'defects': ['brake lamp'], 'certification': 'repaired'}"));
                assertEquals("ready", truck.readiness(ASKED).path("answer").asText(),
                        "the signature is the carrier's duty: nothing here holds it back");
            }
            case "FLT-10" -> assertTrue(expected.path("days").asInt() >= 0 && keeps(Duration.ZERO), "records are kept from the first day");
            case "FLT-11" -> assertTrue(
                    keeps(Duration.ofDays(31L * (expected.path("monthsWhileControlled").asInt() + expected.path("monthsAfter").asInt()))));
            case "FLT-13" -> assertTrue(keeps(Duration.ofDays(31L * expected.path("months").asInt())));
            default -> fail("no test for " + id);
        }
    }

    private static void mayOperate(Yard.Truck truck, String reason, JsonNode expected) {
        boolean may = expected.path("mayOperate").asBoolean();
        assertEquals(may ? List.of() : List.of(reason), truck.reasons(ASKED));
        assertEquals(may ? "ready" : "hold", truck.readiness(ASKED).path("answer").asText());
    }

    /** Whether a visit of so long ago is still told, of a unit that has left since. */
    private static boolean keeps(Duration ago) {
        Instant then = Yard.NOW.minus(ago).minus(Duration.ofHours(9));
        Yard.Truck truck = YARD.truck(Yard.BUILD.replace("{'build'", "{'retiredAt': '" + then.plusSeconds(60) + "', 'build'"))
                .was("A", visit(then.toString(), "'driverReport': {'defects': ['horn']}"));
        return truck.kept("A").contains("horn");
    }

    // The repeat window.

    private static void window(JsonNode inputs, JsonNode expected) throws IOException {
        try (Yard own = new Yard()) {
            own.policy("{'repeatWindow': " + inputs.path("repeatWindow").toString().replace('"', '\'') + "}", 0);
            boolean sameStay = expected.path("sameEpisode").asBoolean();
            JsonNode repaired = inputs.path("repaired");
            JsonNode found = inputs.path("occurrence");
            Instant release = OffsetDateTime.parse(repaired.path("at").asText()).toInstant();
            Instant arrival = sameStay ? OffsetDateTime.parse(found.path("at").asText()).toInstant() : release.minusSeconds(4 * 3600);
            String repair = visit(arrival.toString(), "'releasedAt': '" + repaired.path("at").asText() + "'", meters(repaired),
                    air(smoke("as-found", "core"), smoke("as-left")), Yard.repaired(CORE));
            boolean duringService = inputs.path("setDuringService").asBoolean();
            String again = visit(OffsetDateTime.parse(found.path("at").asText()).toInstant().toString(), meters(found),
                    duringService
                            ? Yard.codes(Yard.code("P0299", "engine", "active", "'setDuringService': true"))
                            : air(smoke("as-found", "core")));
            Yard.Truck truck = own.truck();
            JsonNode answer = JSON.createObjectNode();
            if (inputs.path("receivedOrder").path(0).asText().equals("occurrence")) {
                answer = truck.put("B", again);
                truck.was("A", repair);
            } else {
                truck.was("A", repair);
                JsonNode replaced = inputs.path("odometerReplacedAt");
                if (!replaced.isMissingNode()) {
                    truck.was("R", visit(replaced.path("at").asText(), "'meters': {'odometerReplaced': true, 'odometer': {'value': "
                            + replaced.path("odometerKm") + ", 'unit': 'km'}, 'previousOdometer': {'value': " + replaced.path("previousOdometerKm")
                            + ", 'unit': 'km'}}"));
                }
                answer = sameStay ? truck.visit("A") : truck.put("B", again);
            }
            held(truck, answer, expected);
        }
    }

    private static void held(Yard.Truck truck, JsonNode answer, JsonNode expected) {
        JsonNode episode = truck.lastEpisode(CORE, ASKED);
        assertEquals(expected.path("comeback").asBoolean(), episode.path("comeback").asBoolean());
        if (expected.path("sameEpisode").asBoolean() || expected.has("countsAsOccurrence")) {
            assertEquals(1, truck.episodes(CORE, ASKED));
        }
        if (expected.has("countsAsOccurrence")) {
            assertEquals(List.of(), Yard.occurrences(answer));
            assertEquals(List.of(false), Yard.counting(answer));
        }
        expected.path("unknown").forEach(measure -> assertFalse(episode.path("sinceRepair").has(measure.asText()), measure.asText()));
        if (expected.has("km")) {
            assertEquals(expected.path("km").asDouble(), episode.path("sinceRepair").path("km").asDouble());
        }
        assertEquals(expected.path("warnings").isEmpty() ? List.of() : List.of("/meters/odometer"), Yard.warnings(answer));
        if (expected.has("endedBy")) {
            // Each of the others stands at or inside its limit.
            JsonNode since = episode.path("sinceRepair");
            assertEquals(List.of(expected.path("endedBy").asText()), List.of("days", "km", "engineHours").stream()
                    .filter(measure -> since.path(measure).asDouble() > switch (measure) {
                        case "days" -> 90;
                        case "km" -> 16_000;
                        default -> 400;
                    }).toList());
        }
    }

    private static String meters(JsonNode read) {
        List<String> members = new ArrayList<>();
        if (read.has("km")) {
            members.add("'odometer': {'value': " + read.path("km") + ", 'unit': 'km'}");
        }
        if (read.has("engineHours")) {
            members.add("'engineHours': {'value': " + read.path("engineHours") + ", 'unit': 'h'}");
        }
        return "'meters': {" + String.join(", ", members) + "}";
    }

    // Lamps.

    /** The severity that a capture's sender tells is the gravest reason of the answer; the lamps are sent as its DM1 (SAE J1939-73, from memory). */
    private static void lamps(JsonNode inputs, JsonNode expected) {
        List<String> on = new ArrayList<>();
        inputs.path("lampsOn").forEach(lamp -> on.add(lamp.asText()));
        int status = 0;
        for (String lamp : on) {
            status |= switch (lamp) {
                case "protect" -> 0x01;
                case "amberWarning" -> 0x04;
                case "redStop" -> 0x10;
                case "malfunction" -> 0x40;
                default -> throw new AssertionError(lamp);
            };
        }
        Yard.Truck truck = YARD.truck().was("A", visit(DAY, "'captures': [{'format': 'candump', 'network': 'can-1', 'text': '(1.0) can0 18FECA00#"
                + String.format("%02X", status) + "FF00000000FFFF'}]"));
        String gravest = switch (expected.path("severity").asText()) {
            case "stop" -> "red-stop-lamp";
            case "warning" -> "amber-lamp";
            case "probably-not-electronic" -> "protect-lamp";
            case "emission-related" -> "malfunction-lamp";
            default -> throw new AssertionError(expected);
        };
        assertEquals(gravest, truck.reasons(ASKED).getFirst());
        assertEquals(on.size(), truck.reasons(ASKED).size());
        assertEquals(gravest.equals("red-stop-lamp") ? "hold" : "caution", truck.readiness(ASKED).path("answer").asText());
    }

    // Rates.

    private static void rates(JsonNode inputs, JsonNode expected) {
        ArrayNode units = JSON.createArrayNode();
        if (inputs.has("units")) {
            inputs.path("units").forEach(unit -> units.add(unit.deepCopy()));
        } else {
            units.addObject().put("id", "A").put("events", inputs.path("events").asInt()).put("exposure", inputs.path("exposure").asDouble());
        }
        ObjectNode body = JSON.createObjectNode();
        body.set("units", units);
        if (expected.has("rate") && expected.path("rate").isNull()) {
            try {
                RateComparisonMapping.answer(Fields.of(body, new Faults()));
                fail("events without exposure have no rate");
            } catch (Problem problem) {
                assertEquals("/units/0/exposure", problem.faults().getFirst().pointer());
            }
            return;
        }
        JsonNode answer = RateComparisonMapping.answer(Fields.of(body, new Faults())).path("units");
        if (expected.has("worst")) {
            double ratio = answer.path(0).path("crude").asDouble() / answer.path(1).path("crude").asDouble();
            near(expected.path("rateRatio").asDouble(), ratio);
            assertEquals(expected.path("worst").asText(),
                    answer.path(answer.path(0).path("posteriorMean").asDouble() > answer.path(1).path("posteriorMean").asDouble() ? 0 : 1).path("id")
                            .asText());
            return;
        }
        double per = inputs.path("per").asDouble();
        near(expected.path("rate").asDouble(), per * answer.path(0).path("crude").asDouble());
        near(expected.path("low").asDouble(), per * answer.path(0).path("crudeLow").asDouble());
        near(expected.path("high").asDouble(), per * answer.path(0).path("crudeHigh").asDouble());
    }

    private static void near(double expected, double got) {
        assertEquals(expected, got, 1e-3 * Math.abs(expected));
    }
}
