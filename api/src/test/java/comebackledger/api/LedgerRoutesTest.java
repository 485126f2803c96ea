package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.hamcrest.Matchers.equalTo;
import static org.hamcrest.Matchers.greaterThan;
import static org.hamcrest.Matchers.hasItem;
import static org.hamcrest.Matchers.hasSize;
import static org.hamcrest.Matchers.matchesPattern;
import static org.hamcrest.Matchers.not;
import static org.hamcrest.Matchers.notNullValue;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.api.caller.LocalCallers;
import io.restassured.response.Response;
import io.restassured.response.ValidatableResponse;
import io.restassured.specification.RequestSpecification;
import java.util.Base64;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The stored routes over real HTTP and a real store: status, headers and shapes; what the answers are is tested in core. */
class LedgerRoutesTest {
    private static final String BUILD = """
            {"group": "linehaul", "inServiceAt": "2021-03-01T00:00:00Z", "tags": {"body": "tractor"},
             "build": {"supplyVolts": 12, "networks": [{"name": "j1939-1", "safety": true, "trunkMetres": 18.0,
               "nodes": [{"module": "engine", "address": 0, "atMetres": 1.0}, {"module": "brakes", "address": 11, "atMetres": 15.5, "safety": true}]}]}}
            """;
    private static final Instant ARRIVED = Instant.now().truncatedTo(ChronoUnit.SECONDS).minus(10, ChronoUnit.DAYS);
    private static final AtomicInteger UNITS = new AtomicInteger();

    @TempDir
    static Path folder;

    private static RunningLedger server;

    @BeforeAll
    static void start() {
        server = new RunningLedger(folder, new LocalCallers("default"));
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static RequestSpecification request() {
        return given().port(server.port()).contentType("application/json");
    }

    private static String registered() {
        String unit = "T-" + UNITS.incrementAndGet();
        request().body(BUILD).put("/v1/units/" + unit).then().statusCode(201);
        return unit;
    }

    private static String visit(String more) {
        return "{\"arrivedAt\": \"" + ARRIVED + "\", \"releasedAt\": \"" + ARRIVED.plusSeconds(7200) + "\"" + more + "}";
    }

    private static ValidatableResponse put(String unit, String visit, String body) {
        return request().body(body).put("/v1/units/" + unit + "/visits/" + visit).then();
    }

    private static ValidatableResponse get(String path) {
        return given().port(server.port()).get(path).then();
    }

    private static String slug(String word) {
        return "urn:comeback-ledger:problem:" + word;
    }

    // Units.

    @Test
    void unit_whenPut_isCreatedThenUnchangedThenReplaced() {
        String unit = registered();

        request().body(BUILD).put("/v1/units/" + unit).then().statusCode(200).header("ETag", "\"1\"").body("unit", equalTo(unit));
        request().body("{\"group\":\"regional\"}").put("/v1/units/" + unit).then().statusCode(200).header("ETag", "\"2\"");
        get("/v1/units/" + unit).statusCode(200).body("group", equalTo("regional")).header("Cache-Control", "no-store");
        given().port(server.port()).header("If-None-Match", "\"2\"").get("/v1/units/" + unit).then().statusCode(304);
    }

    @Test
    void unit_whenUnknown_isAProblem() {
        for (String path : List.of("", "/visits", "/visits/WO-1", "/standing", "/trails", "/trails/network.j1939-1.brakes", "/readiness")) {
            get("/v1/units/NO-SUCH" + path).statusCode(404).contentType("application/problem+json").body("type", equalTo(slug("unit-unknown")));
        }
        put("NO-SUCH", "WO-1", visit("")).statusCode(404).body("type", equalTo(slug("unit-unknown")));
    }

    @Test
    void unit_withAnImpossibleIdentifier_isRefusedWhenPutAndUnknownWhenRead() {
        request().urlEncodingEnabled(false).body(BUILD).put("/v1/units/-x").then().statusCode(422).body("faults.pointer", hasItem("{unit}"));
        given().port(server.port()).urlEncodingEnabled(false).get("/v1/units/a%20b").then().statusCode(404).body("type",
                equalTo(slug("unit-unknown")));
        given().port(server.port()).urlEncodingEnabled(false).get("/v1/units/a%2Fb/readiness").then().statusCode(404);
    }

    @Test
    void unit_withFaults_namesThemAll() {
        request().body("{\"grup\": \"x\", \"inServiceAt\": \"2021-03-01\"}").put("/v1/units/X").then().statusCode(422)
                .body("type", equalTo(slug("invalid-value"))).body("faults.pointer", hasItem("/grup"))
                .body("faults.pointer", hasItem("/inServiceAt"));
    }

    @Test
    void units_arePaged() {
        registered();
        registered();
        List<String> seen = new ArrayList<>();
        String next = "";
        do {
            Response page = given().port(server.port()).get("/v1/units?limit=1" + (next.isEmpty() ? "" : "&after=" + next));
            seen.addAll(page.path("items.unit"));
            next = page.path("next") == null ? "" : page.path("next");
        } while (!next.isEmpty());

        assertEquals(seen.stream().distinct().sorted().toList(), seen);
        assertTrue(seen.size() >= 2);
        get("/v1/units?limit=1001").statusCode(422).body("faults.pointer", hasItem("?limit"));
        get("/v1/units?after=nonsense").statusCode(422).body("faults.pointer", hasItem("?after"));
    }

    // Visits.

    @Test
    void visit_whenPut_followsItsRevisions() {
        String unit = registered();

        put(unit, "WO-1", visit("")).statusCode(201).header("ETag", "\"1\"").body("revision", equalTo(1)).body("visit", equalTo("WO-1"))
                .body("standing", notNullValue());
        put(unit, "WO-1", visit("  ")).statusCode(200).body("revision", equalTo(1));
        put(unit, "WO-1", visit(", \"note\": \"more\"")).statusCode(428).body("type", equalTo(slug("precondition-required")));
        request().header("If-Match", "\"7\"").body(visit(", \"note\": \"more\"")).put("/v1/units/" + unit + "/visits/WO-1").then().statusCode(412)
                .body("type", equalTo(slug("precondition-failed")));
        request().header("If-Match", "\"1\"").body(visit(", \"note\": \"more\"")).put("/v1/units/" + unit + "/visits/WO-1").then().statusCode(200)
                .header("ETag", "\"2\"").body("revision", equalTo(2));
        request().header("If-Match", "*").body(visit(", \"note\": \"most\"")).put("/v1/units/" + unit + "/visits/WO-1").then().statusCode(200)
                .header("ETag", "\"3\"");
        get("/v1/units/" + unit + "/visits/WO-1").statusCode(200).header("ETag", "\"3\"").body("evidence.note", equalTo("most"));
        get("/v1/units/" + unit + "/visits/WO-1?revision=1").statusCode(200).header("ETag", "\"1\"").body("evidence.note", equalTo(null));
        get("/v1/units/" + unit + "/visits/WO-1?revision=9").statusCode(404).body("type", equalTo(slug("visit-unknown")));
        get("/v1/units/" + unit + "/visits/WO-2").statusCode(404).body("type", equalTo(slug("visit-unknown")));
    }

    @Test
    void visit_whenNewButNamingARevision_isStale() {
        String unit = registered();

        for (String tag : List.of("\"1\"", "\"0\"", "\"abc\"", "W/\"1\"", "*")) {
            request().header("If-Match", tag).body(visit("")).put("/v1/units/" + unit + "/visits/WO-1").then().statusCode(412);
        }
        request().header("If-Match", "one").body(visit("")).put("/v1/units/" + unit + "/visits/WO-1").then().statusCode(400);
        get("/v1/units/" + unit + "/visits").body("items", hasSize(0));
    }

    @Test
    void visit_keepsItsEvidenceAsSent() {
        String unit = registered();
        String meters = ", \"meters\": {\"odometer\": {\"value\": 412300.10, \"unit\": \"km\"}}";

        put(unit, "WO-1", visit(meters)).statusCode(201);

        String kept = given().port(server.port()).get("/v1/units/" + unit + "/visits/WO-1").asString();
        assertTrue(kept.contains("{\"value\":412300.10,\"unit\":\"km\"}"), kept);
    }

    @Test
    void visits_arePagedInOrder() {
        String unit = registered();
        for (int i = 3; i >= 1; i--) {
            put(unit, "WO-" + i, "{\"arrivedAt\": \"" + ARRIVED.plusSeconds(60L * i) + "\"}").statusCode(201);
        }

        Response first = given().port(server.port()).get("/v1/units/" + unit + "/visits?limit=2");
        assertEquals(List.of("WO-1", "WO-2"), first.path("items.visit"));
        Response second = given().port(server.port()).get("/v1/units/" + unit + "/visits?limit=2&after=" + first.path("next"));
        assertEquals(List.of("WO-3"), second.path("items.visit"));
        assertEquals((Object) null, second.path("next"));
    }

    // Standing, trails, readiness.

    @Test
    void locatedLeakAndStopLamp_showEverywhere() {
        String unit = registered();
        put(unit, "WO-1", visit(", \"chargeAirTests\": [{\"stage\": \"as-found\", \"method\": \"smoke\", \"leaksAt\": [\"cooler-outlet-boot\"]}], "
                + "\"lampsAtRelease\": {\"redStop\": true}")).statusCode(201).body("occurrences[0].place", equalTo("charge-air.cooler-outlet-boot"));

        get("/v1/units/" + unit + "/standing").statusCode(200).body("trails[0].place", equalTo("charge-air.cooler-outlet-boot"));
        get("/v1/units/" + unit + "/trails").statusCode(200).body("items[0].state", equalTo("open"));
        get("/v1/units/" + unit + "/trails/charge-air.cooler-outlet-boot").statusCode(200).body("state", equalTo("open"));
        get("/v1/units/" + unit + "/trails/charge-air.cooler-core").statusCode(404).body("type", equalTo(slug("not-found")));
        get("/v1/units/" + unit + "/trails?at=" + ARRIVED.minusSeconds(1)).statusCode(200).body("items", hasSize(0));
        get("/v1/units/" + unit + "/readiness").statusCode(200).body("answer", equalTo("hold")).body("reasons.reason", hasItem("red-stop-lamp"))
                .body("reasons.reason", hasItem("open-fault"));
    }

    @Test
    void readiness_isKnownByItsTagUntilItChanges() {
        String unit = registered();
        put(unit, "WO-1", visit("")).statusCode(201);

        Response first = given().port(server.port()).get("/v1/units/" + unit + "/readiness?distanceKm=600");
        first.then().statusCode(200).header("Cache-Control", matchesPattern("private, max-age=[0-9]+")).body("unit", equalTo(unit));
        String tag = first.header("ETag");
        given().port(server.port()).header("If-None-Match", tag).get("/v1/units/" + unit + "/readiness?distanceKm=600").then().statusCode(304)
                .header("ETag", tag).header("Cache-Control", notNullValue());
        put(unit, "WO-2", "{\"arrivedAt\": \"" + ARRIVED.plusSeconds(86_400) + "\"}").statusCode(201);
        given().port(server.port()).header("If-None-Match", tag).get("/v1/units/" + unit + "/readiness?distanceKm=600").then().statusCode(200)
                .header("ETag", not(equalTo(tag))).body("answer", equalTo("hold"));
    }

    @Test
    void readiness_ofImpossibleTrips_namesThem() {
        String unit = registered();

        get("/v1/units/" + unit + "/readiness?distanceKm=-5&engineHours=x&at=tomorrow").statusCode(422)
                .body("faults.pointer", hasItem("?distanceKm")).body("faults.pointer", hasItem("?engineHours"))
                .body("faults.pointer", hasItem("?at"));
        get("/v1/units/" + unit + "/readiness?distancekm=5").statusCode(422).body("type", equalTo(slug("unknown-field")));
    }

    @Test
    void readinessOfMany_answersInOrder() {
        String unit = registered();

        request().body("{\"units\": [{\"unit\": \"NO-SUCH\"}, {\"unit\": \"" + unit + "\", \"distanceKm\": 600}]}").post("/v1/readiness").then()
                .statusCode(200).body("items", hasSize(2)).body("items[0].unit", equalTo("NO-SUCH"))
                .body("items[0].problem.type", equalTo(slug("unit-unknown"))).body("items[1].answer", equalTo("unknown"));
        request().body("{\"units\": []}").post("/v1/readiness").then().statusCode(200).body("items", hasSize(0));
        request().body("{\"units\": [{\"unit\": 5}, {}]}").post("/v1/readiness").then().statusCode(422)
                .body("faults.pointer", hasItem("/units/0/unit")).body("faults.pointer", hasItem("/units/1/unit"));
    }

    // Policy, changes.

    @Test
    void policy_isReplacedWholeByVersion() {
        int version = get("/v1/policy").statusCode(200).extract().path("version");
        String tag = "\"" + version + "\"";
        get("/v1/policy").header("ETag", tag).body("repeatWindow.days", notNullValue());
        request().header("If-None-Match", tag).get("/v1/policy").then().statusCode(304).header("ETag", tag);

        request().body("{\"evidenceMaxAgeDays\": 90}").put("/v1/policy").then().statusCode(428);
        request().header("If-Match", "\"99\"").body("{\"evidenceMaxAgeDays\": 90}").put("/v1/policy").then().statusCode(412);
        request().header("If-Match", tag).body("{\"evidenceMaxAgeDays\": 90}").put("/v1/policy").then().statusCode(200)
                .body("version", equalTo(version + 1)).body("evidenceMaxAgeDays", equalTo(90f));
        request().body("{\"evidenceMaxAgeDays\": 90}").put("/v1/policy").then().statusCode(200).body("version", equalTo(version + 1));
        request().header("If-Match", "*").body("{}").put("/v1/policy").then().statusCode(200).body("version", equalTo(version + 2));
    }

    @Test
    void changes_areFollowedByCursor() {
        String start = given().port(server.port()).get("/v1/changes?limit=1000").path("next");
        String unit = registered();
        put(unit, "WO-1", visit("")).statusCode(201);

        Response page = given().port(server.port()).get("/v1/changes?after=" + start);
        page.then().statusCode(200).body("items.size()", greaterThan(1)).body("items[0].kind", equalTo("unit-recorded"))
                .body("items[0].unit", equalTo(unit)).body("items[0].by", equalTo("local")).body("next", notNullValue());
        String end = page.path("next");
        get("/v1/changes?after=" + end).body("items", hasSize(0)).body("next", equalTo(end));
        assertEquals(end, page.path("items[-1].cursor"));
    }

    /** Whoever waited at a place that this feed never reached would miss all that comes before it. */
    @Test
    void changes_atAPlaceNeverReached_areRefused() {
        String ahead = Base64.getUrlEncoder().withoutPadding().encodeToString("c999999999".getBytes(StandardCharsets.UTF_8));
        String units = Base64.getUrlEncoder().withoutPadding().encodeToString("u1".getBytes(StandardCharsets.UTF_8));

        get("/v1/changes?after=" + ahead).statusCode(422).body("faults.pointer", hasItem("?after"));
        get("/v1/changes?after=" + units).statusCode(422).body("faults.pointer", hasItem("?after"));
    }
}
