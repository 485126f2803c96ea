package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.hamcrest.Matchers.closeTo;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.equalTo;
import static org.hamcrest.Matchers.greaterThan;
import static org.hamcrest.Matchers.hasItem;
import static org.hamcrest.Matchers.hasItems;
import static org.hamcrest.Matchers.hasSize;
import static org.hamcrest.Matchers.not;
import static org.hamcrest.Matchers.startsWith;
import static org.junit.jupiter.api.Assertions.assertEquals;

import comebackledger.api.caller.LocalCallers;
import io.restassured.config.JsonConfig;
import io.restassured.config.RestAssuredConfig;
import io.restassured.path.json.config.JsonPathConfig.NumberReturnType;
import io.restassured.response.ValidatableResponse;
import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The planner's answers over real HTTP and a real store: a small fleet with one unit that keeps coming back. */
class FleetRoutesTest {
    private static final Instant START = Instant.parse("2025-01-01T08:00:00Z");
    private static final String AT = "at=2025-12-31T08:00:00Z";
    private static final List<String> PATHS = List.of("offenders", "patterns", "repairs", "recurrence");

    @TempDir
    static Path folder;

    private static RunningLedger server;

    @BeforeAll
    static void start() {
        server = new RunningLedger(folder, new LocalCallers("default"));
        for (int i = 0; i < 6; i++) {
            unit("T-" + i, i < 3 ? "=tractor" : "van");
            visit("T-" + i, 0, 10_000, "");
            visit("T-" + i, 100, 40_000, i % 2 == 0 ? fault("cleaned") : "");
            visit("T-" + i, 300, 100_000, "");
        }
        visit("T-0", 110, 43_000, fault("cleaned"));
        visit("T-0", 120, 46_000, fault("replaced"));
        visit("T-0", 130, 49_000, fault("replaced"));
        given().port(server.port()).contentType("application/json").body("{}").put("/v1/units/NEVER-SEEN").then().statusCode(201);
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static void unit(String unit, String body) {
        given().port(server.port()).contentType("application/json").body("""
                {"group": "linehaul", "tags": {"body": "%s"},
                 "build": {"supplyVolts": 12, "networks": [{"name": "j1939-1", "trunkMetres": 18.0, "nodes": [{"module": "engine", "address": 0, "atMetres": 1.0},
                    {"module": "brakes", "address": 11, "atMetres": 15.5}]}]}}
                """.formatted(body)).put("/v1/units/" + unit).then().statusCode(201);
    }

    private static String fault(String action) {
        return ", \"busChecks\": [{\"stage\": \"as-found\", \"network\": \"j1939-1\", \"rollCall\": {\"answered\": [\"engine\"], \"silent\": [\"brakes\"]}}], "
                + "\"repairs\": [{\"place\": \"network.j1939-1.brakes\", \"action\": \"" + action + "\", \"claimsFixed\": true}]";
    }

    private static void visit(String unit, int day, int km, String more) {
        Instant at = START.plus(day, ChronoUnit.DAYS);
        given().port(server.port()).contentType("application/json").body("{\"arrivedAt\": \"" + at + "\", \"releasedAt\": \"" + at.plusSeconds(3600)
                + "\", \"meters\": {\"odometer\": {\"value\": " + km + ", \"unit\": \"km\"}}" + more + "}")
                .put("/v1/units/" + unit + "/visits/WO-" + unit + "-" + day).then().statusCode(201);
    }

    private static ValidatableResponse get(String path, String type) {
        return given().port(server.port())
                .config(RestAssuredConfig.config().jsonConfig(JsonConfig.jsonConfig().numberReturnType(NumberReturnType.DOUBLE)))
                .header("Accept", type).get("/v1/fleet/" + path).then();
    }

    private static ValidatableResponse get(String path) {
        return get(path, "application/json").statusCode(200).body("asOf", equalTo("2025-12-31T08:00:00Z")).body("baselineVersion", equalTo(1));
    }

    /** 90 000 km read in 300 days, and 64 days more at the 300 km a day of the newest readings; 3 of its 4 episodes came back. */
    @Test
    void offenders_rankTheUnitThatKeepsComingBack() {
        get("offenders?" + AT).body("items", hasSize(6)).body("items[0].rank", equalTo(1)).body("items[0].unit", equalTo("T-0"))
                .body("items[0].comebacks", equalTo(3)).body("items[0].episodes", equalTo(4)).body("items[0].noFaultFound", equalTo(0))
                .body("items[0].exposure.km", closeTo(109_200, 1)).body("items[0].exposure.days", closeTo(364, 1e-6))
                .body("items[0].exposure.estimated", equalTo(true)).body("items[0].ratePer100000Km.crude", closeTo(3 / 1.092, 1e-3))
                .body("items[0].flags", hasItem("comeback")).body("items[0].reasons[0]", startsWith("3 returns in 109 000 km where its peers have "))
                .body("items[0].probabilityWorst", greaterThan(0.0)).body("notRanked.unit", equalTo(List.of("NEVER-SEEN")));
    }

    @Test
    void offenders_atALimit_tellTheWorst() {
        get("offenders?limit=1&" + AT).body("items.unit", equalTo(List.of("T-0")));
        get("offenders?group=none&" + AT).body("items", hasSize(0));
        get("offenders?system=charge-air&" + AT).body("items.comebacks", not(hasItem(3)));
    }

    /** After the policy's window shrinks to 5 days nothing is a comeback: the rows are folded again under it. */
    @Test
    void offenders_afterAChangeOfPolicy_followIt() {
        try (RunningLedger other = new RunningLedger(folder.resolve("other"), new LocalCallers("default"))) {
            RunningLedger kept = server;
            server = other;
            unit("P", "van");
            visit("P", 0, 10_000, fault("cleaned"));
            visit("P", 10, 12_000, fault("cleaned"));
            get("offenders?" + AT).body("items[0].comebacks", equalTo(1));
            given().port(other.port()).contentType("application/json").header("If-Match", "\"0\"").body("{\"repeatWindow\": {\"days\": 5}}")
                    .put("/v1/policy").then().statusCode(200);
            get("offenders?" + AT).body("items[0].comebacks", equalTo(0)).body("policyVersion", equalTo(1));
            get("offenders?" + AT).body("items[0].comebacks", equalTo(0));
            server = kept;
        }
    }

    @Test
    void patterns_compareUnitsWithATagAndWithout() {
        get("patterns?" + AT).body("items", hasSize(2)).body("items.factor.tag", hasItem("body")).body("items.system", hasItem("network.j1939-1"))
                .body("items.find { it.factor.value == 'van' }.units", equalTo(3))
                .body("items.find { it.factor.value == 'van' }.episodes", equalTo(1))
                .body("items.find { it.factor.value == 'van' }.rateRatio", closeTo(0.2, 1e-6));
    }

    @Test
    void repairs_tellHowLongTheyHold() {
        get("repairs?place=brakes&measure=days&" + AT).body("items.action", equalTo(List.of("cleaned", "replaced")))
                .body("items[0].repairs", equalTo(4)).body("items[0].returned", equalTo(2)).body("items[1].repairs", equalTo(2))
                .body("items[0].curve.size()", greaterThan(0)).body("comparison.groups.id", hasItems("cleaned", "replaced"));
        get("repairs?action=replaced&" + AT).body("items.action", equalTo(List.of("replaced")));
        get("repairs?place=network.j1939-1.*&" + AT).body("items", hasSize(2));
        get("repairs?place=charge-air.*&" + AT).body("items", hasSize(0));
    }

    @Test
    void recurrence_addsUpEpisodes() {
        get("recurrence?measure=days&" + AT).body("points.size()", equalTo(4)).body("points[3].mean", closeTo(1, 1e-9));
    }

    @Test
    void answers_asRows_areDefused() {
        for (String path : PATHS) {
            get(path + "?" + AT, "text/csv").statusCode(200).contentType("text/csv");
        }
        get("patterns?" + AT, "text/csv").body(containsString("'=tractor")).body(not(containsString(",=tractor")));
        get("offenders?" + AT, "text/csv").body(startsWith("rank,unit,comebacks,episodes,noFaultFound,exposure.km"));
    }

    @Test
    void answers_asPictures_areXml() throws Exception {
        for (String path : List.of("repairs", "recurrence", "repairs?place=none&", "recurrence?group=none&")) {
            String picture = get(path + (path.contains("?") ? "" : "?") + AT, "image/svg+xml").statusCode(200).contentType("image/svg+xml").extract()
                    .asString();

            var root = DocumentBuilderFactory.newInstance().newDocumentBuilder()
                    .parse(new ByteArrayInputStream(picture.getBytes(StandardCharsets.UTF_8)))
                    .getDocumentElement();

            assertEquals("svg", root.getTagName());
            assertEquals(0, root.getElementsByTagName("script").getLength());
        }
    }

    @Test
    void question_thatIsNotPossible_isRefused() {
        get("repairs?measure=miles", "application/json").statusCode(422).body("faults.pointer", hasItem("?measure"));
        get("repairs?action=polished", "application/json").statusCode(422).body("faults.pointer", hasItem("?action"));
        get("repairs?place=%3Cx%3E", "application/json").statusCode(422).body("faults.pointer", hasItem("?place"));
        get("offenders?limit=1001", "application/json").statusCode(422);
        get("offenders", "image/svg+xml").statusCode(406);
    }
}
