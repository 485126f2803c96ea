package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.hamcrest.Matchers.equalTo;
import static org.hamcrest.Matchers.hasSize;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.api.caller.LocalCallers;
import comebackledger.api.demo.DemoFleet;
import io.restassured.response.ValidatableResponse;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BulkRoutesTest {
    private static final String UNIT = "{\"unit\": {\"id\": \"T-1\", \"group\": \"linehaul\"}}";

    @TempDir
    Path folder;

    private RunningLedger server;

    @BeforeEach
    void start() {
        server = new RunningLedger(folder.resolve("one"), new LocalCallers("default"));
    }

    @AfterEach
    void stop() {
        server.close();
    }

    private static ValidatableResponse take(RunningLedger server, String lines) {
        return given().port(server.port()).config(io.restassured.RestAssured.config().encoderConfig(
                io.restassured.config.EncoderConfig.encoderConfig().appendDefaultContentCharsetToContentTypeIfUndefined(false)
                        .encodeContentTypeAs("application/x-ndjson", io.restassured.http.ContentType.TEXT)))
                .contentType("application/x-ndjson").body(lines).post("/v1/imports").then();
    }

    private static String export(RunningLedger server) {
        return given().port(server.port()).get("/v1/exports").then().statusCode(200).contentType("application/x-ndjson").extract().asString();
    }

    private static String visit(String more) {
        return "{\"visit\": {\"unit\": \"T-1\", \"id\": \"WO-1\", \"arrivedAt\": \"2026-03-01T08:00:00+01:00\"" + more + "}}";
    }

    private static String demo() {
        return DemoFleet.lines(Instant.now()).stream().map(ObjectNode::toString).collect(Collectors.joining("\n"));
    }

    @Test
    void lines_areAcceptedOnce() {
        String lines = UNIT + "\n" + visit("") + "\n";

        take(server, lines).statusCode(200).body("accepted", equalTo(2)).body("unchanged", equalTo(0)).body("rejected", equalTo(0))
                .body("problems", hasSize(0));
        take(server, lines).statusCode(200).body("accepted", equalTo(0)).body("unchanged", equalTo(2));
    }

    @Test
    void line_whenBad_isRejectedByItself() {
        String lines = UNIT + "\n\n{\"unit\": \n{\"truck\": {}}\n" + visit(", \"note\": \"" + "x".repeat(1 << 20) + "\"") + "\n"
                + visit(", \"releasedAt\": \"2020-01-01T00:00:00Z\"") + "\n" + visit("").replace("T-1", "T-2") + "\n" + visit("");

        take(server, lines).statusCode(200).body("accepted", equalTo(2)).body("rejected", equalTo(5))
                .body("problems.line", equalTo(List.of(3, 4, 5, 6, 7)))
                .body("problems.problem.type",
                        equalTo(List.of("urn:comeback-ledger:problem:malformed-json", "urn:comeback-ledger:problem:invalid-value",
                                "urn:comeback-ledger:problem:payload-too-large", "urn:comeback-ledger:problem:invalid-value",
                                "urn:comeback-ledger:problem:unit-unknown")));
    }

    @Test
    void visit_whenChanged_needsTheNextRevision() {
        take(server, UNIT + "\n" + visit("")).body("accepted", equalTo(2));

        take(server, visit(", \"note\": \"new\"")).body("rejected", equalTo(1)).body("problems[0].problem.status", equalTo(409));
        take(server, visit(", \"note\": \"new\", \"revision\": 3")).body("rejected", equalTo(1));
        take(server, visit(", \"note\": \"new\", \"revision\": 2")).body("accepted", equalTo(1));
        given().port(server.port()).get("/v1/units/T-1/visits/WO-1").then().body("revision", equalTo(2)).body("evidence.note", equalTo("new"));
    }

    /** Without an instant of receipt it counts as received at its release, else at its arrival. */
    @Test
    void visit_withoutReceipt_isReceivedWhenTheShopWasDone() {
        take(server, UNIT + "\n" + visit("") + "\n" + visit(", \"releasedAt\": \"2026-03-01T12:00:00Z\"").replace("WO-1", "WO-2") + "\n"
                + visit(", \"receivedAt\": \"2026-03-05T00:00:00Z\"").replace("WO-1", "WO-3"));

        for (var row : List.of(List.of("WO-1", "2026-03-01T07:00:00Z"), List.of("WO-2", "2026-03-01T12:00:00Z"),
                List.of("WO-3", "2026-03-05T00:00:00Z"))) {
            given().port(server.port()).get("/v1/units/T-1/visits/" + row.get(0)).then().body("receivedAt", equalTo(row.get(1)));
        }
    }

    @Test
    void export_whenImportedElsewhere_exportsTheSameBytes() {
        take(server, demo()).statusCode(200).body("rejected", equalTo(0));
        take(server, UNIT + "\n" + visit(", \"meters\": {\"odometer\": {\"value\": 1.10e3, \"unit\": \"km\"}}") + "\n" + visit(", \"revision\": 2"));
        take(server, UNIT.replace("linehaul", "regional")).body("accepted", equalTo(1));
        given().port(server.port()).contentType("application/json").header("If-Match", "\"0\"").body("{\"evidenceMaxAgeDays\": 90}").put("/v1/policy")
                .then().statusCode(200);
        String first = export(server);

        try (RunningLedger other = new RunningLedger(folder.resolve("other"), new LocalCallers("default"))) {
            take(other, first).statusCode(200).body("rejected", equalTo(0)).body("unchanged", equalTo(0));

            assertEquals(first, export(other));
        }
        assertTrue(first.contains("1.10e3") && first.contains("\"policy\""), "kept as sent");
        take(server, first).body("accepted", equalTo(0)).body("rejected", equalTo(0));
    }
}
