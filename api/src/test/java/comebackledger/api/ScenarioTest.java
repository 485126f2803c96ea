package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.hamcrest.Matchers.contains;
import static org.hamcrest.Matchers.equalTo;
import static org.hamcrest.Matchers.hasItem;
import static org.junit.jupiter.api.Assertions.assertEquals;

import comebackledger.api.command.Main;
import java.io.IOException;
import java.net.ServerSocket;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** One truck's story over real HTTP, to a process of its own on real H2 files that is killed on the way. Invented; the rules are the expectation. */
class ScenarioTest {
    private static final Instant NOW = Instant.now().truncatedTo(ChronoUnit.SECONDS);
    private static final String PLACE = "network.j1939-1.terminator-b";
    private static final String UNIT = """
            {"build": {"supplyVolts": 12, "networks": [{"name": "j1939-1", "safety": true, "trunkMetres": 18.0, "wireOhmPerMetre": 0.021,
              "connector": {"atMetres": 2.0, "stubMetres": 0.5},
              "nodes": [{"module": "engine", "address": 0, "atMetres": 1.0}, {"module": "transmission", "address": 3, "atMetres": 6.0},
                        {"module": "body", "address": 33, "atMetres": 12.0}, {"module": "brakes", "address": 11, "atMetres": 15.5, "safety": true}]}]}}
            """;

    @TempDir
    Path data;

    private Process process;
    private int port;

    private void start() throws IOException {
        try (ServerSocket free = new ServerSocket(0)) {
            port = free.getLocalPort();
        }
        process = new ProcessBuilder(ProcessHandle.current().info().command().orElseThrow(), "-cp", System.getProperty("java.class.path"), "-Xmx300m",
                Main.class.getName(), "serve", "--port", String.valueOf(port), "--data", data.toString())
                .redirectErrorStream(true).redirectOutput(ProcessBuilder.Redirect.DISCARD).start();
        Awaitility.await().atMost(Duration.ofSeconds(90)).ignoreExceptions()
                .until(() -> given().port(port).get("/health/ready").statusCode() == 200);
    }

    @AfterEach
    void kill() throws InterruptedException {
        process.destroyForcibly();
        process.waitFor(30, TimeUnit.SECONDS);
    }

    private void put(String path, String body, int status) {
        given().port(port).contentType("application/json").body(body).put(path).then().statusCode(status);
    }

    private static String check(String stage, double ohm, String silent) {
        String answered = silent.isEmpty() ? "\"engine\", \"transmission\", \"body\", \"brakes\"" : "\"engine\", \"transmission\"";
        return "{\"network\": \"j1939-1\", \"stage\": \"" + stage + "\", \"power\": \"off\", \"highLow\": {\"value\": " + ohm
                + ", \"unit\": \"ohm\"}, \"highGround\": {\"overRange\": true, \"unit\": \"Mohm\"}, \"lowGround\": {\"overRange\": true, \"unit\": \"Mohm\"},"
                + " \"rollCall\": {\"answered\": [" + answered + "], \"silent\": [" + silent + "]}}";
    }

    private static String visit(int daysAgo, String members) {
        Instant arrived = NOW.minus(Duration.ofDays(daysAgo));
        return "{\"arrivedAt\": \"" + arrived + "\", \"releasedAt\": \"" + arrived.plusSeconds(8 * 3600) + "\"" + (members.isEmpty() ? "" : ", ")
                + members + "}";
    }

    private static String repaired(int daysAgo, boolean proven) {
        return visit(daysAgo, "\"busChecks\": [" + check("as-found", 121.0, "") + (proven ? ", " + check("as-left", 60.3, "") : "")
                + "], \"repairs\": [{\"place\": \"" + PLACE + "\", \"action\": \"replaced\", \"claimsFixed\": true}]");
    }

    private static String passing(int daysAgo) {
        return visit(daysAgo, "\"busChecks\": [" + check("as-found", 60.3, "") + "]");
    }

    private io.restassured.response.ValidatableResponse readiness(String unit, Instant at) {
        return given().port(port).queryParam("at", at.toString()).get("/v1/units/" + unit + "/readiness").then().statusCode(200);
    }

    @Test
    void terminator_comesBackInsideTheWindow_andIsReadyWhenItHasPassed() throws Exception {
        start();
        put("/v1/units/T-1", UNIT, 201);
        put("/v1/units/T-1/visits/WO-1", repaired(60, true), 201);
        given().port(port).get("/v1/units/T-1/trails").then().body("items[0].place", equalTo(PLACE)).body("items[0].state", equalTo("proven"));
        readiness("T-1", Instant.now().plusSeconds(1)).body("answer", equalTo("ready"));

        process.destroyForcibly().waitFor();
        start();
        put("/v1/units/T-1/visits/WO-2", repaired(20, false), 201);

        given().port(port).get("/v1/units/T-1/trails/" + PLACE).then().body("episodes[1].comeback", equalTo(true))
                .body("episodes[1].after", equalTo("WO-1"))
                .body("flags.flag", contains("comeback", "unproven-fix"));
        readiness("T-1", Instant.now().plusSeconds(1)).body("answer", equalTo("caution")).body("reasons.reason", contains("comeback", "unproven-fix"))
                .body("reasons[0].grounds", contains("WO-1", "WO-2"));

        put("/v1/units/T-1/visits/WO-3", passing(10), 201);
        readiness("T-1", Instant.now().plusSeconds(1)).body("answer", equalTo("caution")).body("reasons.reason", contains("comeback"));
        Instant windowEnd = NOW.minus(Duration.ofDays(20)).plusSeconds(8 * 3600).plus(Duration.ofDays(90));
        readiness("T-1", windowEnd).body("answer", equalTo("caution"));
        readiness("T-1", windowEnd.plusSeconds(1)).body("answer", equalTo("ready"));
    }

    @Test
    void brokenTrunkOnASafetyNetwork_isAHold() throws Exception {
        start();
        put("/v1/units/T-2", UNIT, 201);
        put("/v1/units/T-2/visits/WO-1", visit(2, "\"busChecks\": [" + check("as-found", 120.2, "\"body\", \"brakes\"") + "]"), 201);

        readiness("T-2", Instant.now().plusSeconds(1)).body("answer", equalTo("hold")).body("reasons.reason", hasItem("safety-network-fault"))
                .body("reasons.reason", hasItem("safety-module-silent"));
    }

    @Test
    void everyOrderOfReceipt_tellsTheSameStory() throws Exception {
        start();
        List<String> visits = List.of(repaired(60, true), repaired(20, false), passing(10));
        List<String> told = new ArrayList<>();
        int[][] orders = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
        for (int i = 0; i < orders.length; i++) {
            String unit = "O-" + i;
            put("/v1/units/" + unit, UNIT, 201);
            for (int visit : orders[i]) {
                put("/v1/units/" + unit + "/visits/" + unit + "-" + visit, visits.get(visit), 201);
            }
            String trails = given().port(port).queryParam("at", NOW.toString()).get("/v1/units/" + unit + "/trails").asString();
            String standing = given().port(port).queryParam("at", NOW.toString()).get("/v1/units/" + unit + "/standing").asString();
            told.add((trails + standing).replace(unit, "O"));
        }

        for (String other : told) {
            assertEquals(told.getFirst(), other);
        }
    }

    /** Case LOG-04 of the published logs: a DM1 of three codes by broadcast transport (SAE J1939-21 and -73, layouts from memory). */
    @Test
    void capture_ofAMultiFrameLog_comesOutDecodedAndCounted() throws Exception {
        start();
        put("/v1/units/T-3", UNIT, 201);
        String log = "(1000.010000) can0 18ECFF00#200E0002FFCAFE00\\n(1000.060000) can0 18EBFF00#0104FF660002037F\\n(1000.110000) can0 18EBFF00#02020905D3070901";

        given().port(port).contentType("application/json")
                .body(visit(1, "\"captures\": [{\"format\": \"candump\", \"network\": \"j1939-1\", \"text\": \"" + log + "\"}]"))
                .put("/v1/units/T-3/visits/WO-1").then().statusCode(201)
                .body("codes.code", contains("SPN 102 FMI 2", "SPN 639 FMI 9", "SPN 2003 FMI 9"))
                .body("codes.counts", contains(true, true, true)).body("codes[1].occurrences", equalTo(5))
                .body("codes[1].reportedBy", equalTo("engine"))
                .body("codes[2].accused", equalTo("transmission")).body("occurrences.place", contains("network.j1939-1.transmission"))
                .body("standing.lamps.amberWarning", equalTo(true));
    }
}
