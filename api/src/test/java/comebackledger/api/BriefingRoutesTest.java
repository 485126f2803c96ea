package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.equalTo;
import static org.hamcrest.Matchers.hasSize;
import static org.hamcrest.Matchers.startsWith;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.api.caller.LocalCallers;
import io.restassured.response.ValidatableResponse;
import java.io.StringReader;
import java.nio.file.Path;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.xml.sax.InputSource;

/** Briefing and readings over real HTTP and a real store; what must come first is tested in core. */
class BriefingRoutesTest {
    private static final String BUILD = """
            {"group": "linehaul", "build": {"supplyVolts": 12,
             "networks": [{"name": "j1939-1", "safety": true, "trunkMetres": 18.0, "wireOhmPerMetre": 0.021,
               "nodes": [{"module": "engine", "address": 0, "atMetres": 1.0}, {"module": "brakes", "address": 11, "atMetres": 15.5, "safety": true}],
               "connector": {"atMetres": 8.0}}],
             "chargeAir": {"ratedBoost": {"value": 200, "unit": "kPa"}, "maxTestPressure": {"value": 30, "unit": "psi"}, "spots": ["cooler-outlet-boot", "intake-elbow"]},
             "engine": {"displacement": {"value": 12.9, "unit": "L"}, "ratedSpeedRpm": 1800}}}
            """;
    private static final String HOSTILE = "<script>alert(1)</script> & \\\"quoted\\\" \u0634\u0627\u062d\u0646\u0629 {{unit}} \u202e reversed </td> {{{svg}}}";
    private static final String AT = "?at=2026-04-01T06:00:00Z";

    @TempDir
    static Path folder;

    private static RunningLedger server;

    @BeforeAll
    static void start() {
        server = new RunningLedger(folder, new LocalCallers("default"));
        put("/v1/units/T-104", BUILD);
        put("/v1/units/T-104/visits/WO-0977",
                visit("2026-01-05", 400_000, "lamp on, no start", check("as-found", 120.4) + ", " + check("as-left", 60.4),
                        "", repair("water in the connector")));
        put("/v1/units/T-104/visits/WO-1001", visit("2026-03-01", 409_000, "same again", check("as-found", 120.9),
                "{\"stage\": \"as-found\", \"method\": \"held-flow\", \"testPressure\": {\"value\": 15, \"unit\": \"psi\"}, "
                        + "\"flow\": {\"value\": 22, \"unit\": \"L/min\"}, \"leaksAt\": [\"cooler-outlet-boot\"]}",
                ""));
        put("/v1/units/T-105", "{}");
        put("/v1/units/T-105/visits/WO-2", visit("2026-03-02", 10, HOSTILE + "w".repeat(400), "", "", repair(HOSTILE)));
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static void put(String path, String body) {
        given().port(server.port()).contentType("application/json").body(body).put(path).then().statusCode(201);
    }

    private static String check(String stage, double ohm) {
        return "{\"network\": \"j1939-1\", \"stage\": \"" + stage + "\", \"power\": \"off\", \"highLow\": {\"value\": " + ohm
                + ", \"unit\": \"ohm\"}, \"rollCall\": {\"answered\": [\"engine\", \"brakes\"], \"silent\": []}}";
    }

    private static String repair(String cause) {
        return "{\"place\": \"network.j1939-1.terminator-b\", \"action\": \"replaced\", \"cause\": \"" + cause + "\", \"claimsFixed\": true}";
    }

    private static String visit(String day, int km, String complaint, String checks, String air, String repairs) {
        return "{\"arrivedAt\": \"" + day + "T08:00:00Z\", \"releasedAt\": \"" + day + "T16:00:00Z\", \"complaint\": \"" + complaint
                + "\", \"note\": \"" + complaint + "\", \"meters\": {\"odometer\": {\"value\": " + km + ", \"unit\": \"km\"}}, \"busChecks\": ["
                + checks
                + "], \"chargeAirTests\": [" + air + "], \"repairs\": [" + repairs + "]}";
    }

    private static ValidatableResponse get(String path, String accept) {
        return given().port(server.port()).accept(accept).get(path).then();
    }

    private static String body(String path, String accept) {
        return get(path, accept).statusCode(200).extract().body().asString();
    }

    @Test
    void briefing_tellsSuspectsTestsAndWhatWasTried() {
        get("/v1/units/T-104/briefing" + AT, "application/json").statusCode(200).body("unit", equalTo("T-104"))
                .body("asOf", equalTo("2026-04-01T06:00:00Z")).body("openTrails", hasSize(2)).body("nextTests[0].test", equalTo("terminator-out"))
                .body("nextTests[0].cautions[0]", startsWith("Ohmmeter only with the power off"))
                .body("suspects[0].system", equalTo("network.j1939-1")).body("suspects[0].place", equalTo("network.j1939-1.terminator-a"))
                .body("repairsTried[0].proven", equalTo(true)).body("recentVisits[0].visit", equalTo("WO-1001"))
                .body("pastReadings[0].series", equalTo("network.j1939-1.highLowOhm"));
    }

    @Test
    void readings_areListedAndTold() {
        get("/v1/units/T-104/readings" + AT, "application/json").statusCode(200).body("items", hasSize(2))
                .body("items[1].series", equalTo("network.j1939-1.highLowOhm")).body("items[1].points", equalTo(3));
        get("/v1/units/T-104/readings/network.j1939-1.highLowOhm" + AT, "application/json").statusCode(200).body("points", hasSize(3))
                .body("points[0].km", equalTo(400_000f)).body("points[1].stage", equalTo("as-left")).body("repairs", hasSize(1))
                .body("axis", equalTo("km"));
        get("/v1/units/T-104/readings/charge-air.flow", "application/json").statusCode(404).body("type",
                equalTo("urn:comeback-ledger:problem:not-found"));
        get("/v1/units/T-9/readings", "application/json").statusCode(404).body("type", equalTo("urn:comeback-ledger:problem:unit-unknown"));
        get("/v1/units/T-9/briefing", "text/html").statusCode(404).contentType("application/problem+json");
        get("/v1/units/T-104/briefing", "image/png").statusCode(406);
    }

    @Test
    void page_bringsItsOwnStyleAndNothingElse() {
        String page = get("/v1/units/T-104/briefing" + AT, "text/html").statusCode(200).contentType("text/html; charset=utf-8")
                .header("Content-Security-Policy",
                        "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")
                .header("Vary", containsString("Accept")).extract()
                .body().asString();

        assertFalse(page.contains("<script") || page.contains("<link") || page.contains("<img") || page.contains("url("), page);
        assertFalse(page.replace("http://www.w3.org/2000/svg", "").contains("http"), page);
    }

    @Test
    void picture_isWellFormedAndSaysWhatItShows() throws Exception {
        String picture = body("/v1/units/T-104/readings/network.j1939-1.highLowOhm" + AT, "image/svg+xml");

        DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(new InputSource(new StringReader(picture)));
        assertTrue(picture.contains("outside its limit") && picture.contains("terminator-b replaced"), picture);
    }

    /** Markup, quotes, template words and right-to-left text come out as text, in a direction of their own; long words can be broken. */
    @Test
    void textOfVisits_isEscapedEverywhere() {
        String page = body("/v1/units/T-105/briefing" + AT, "text/html");

        assertFalse(page.contains("<script>") || page.contains("</td> {{") || page.contains("\"quoted\""), page);
        assertTrue(page.contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;quoted&quot; \u0634\u0627\u062d\u0646\u0629"), page);
        assertTrue(page.contains("{{unit}}"), page);
        assertTrue(page.contains("<bdi>") && page.contains("overflow-wrap: anywhere"), page);
        assertFalse(page.contains("w".repeat(200)), "cut where it is long");
        assertTrue(page.contains("No fault is open in this ledger"), page);
    }

    /** Pages and pictures in the fleet's own units; the JSON stays in km and mm. */
    @Test
    void display_setsTheUnitsOfPagesAndPictures() {
        Path other = folder.resolveSibling(folder.getFileName() + "-us");
        try (RunningLedger us = new RunningLedger(other, new LocalCallers("default"))) {
            given().port(us.port()).contentType("application/json").header("If-Match", "\"0\"").body("{\"display\": \"us\"}").put("/v1/policy").then()
                    .statusCode(200);
            given().port(us.port()).contentType("application/json").body(BUILD).put("/v1/units/T-1").then().statusCode(201);
            given().port(us.port()).contentType("application/json").body(visit("2026-03-01", 160_934, "", "",
                    "{\"stage\": \"as-found\", \"method\": \"held-flow\", \"testPressure\": {\"value\": 15, \"unit\": \"psi\"}, "
                            + "\"flow\": {\"value\": 22, \"unit\": \"L/min\"}, \"leaksAt\": [\"cooler-outlet-boot\"]}",
                    "")).put("/v1/units/T-1/visits/WO-1").then().statusCode(201);

            String page = given().port(us.port()).accept("text/html").get("/v1/units/T-1/briefing").asString();

            assertTrue(page.contains("100\u00a0000\u00a0mi") && page.contains(" in as found"), page);
        }
    }
}
