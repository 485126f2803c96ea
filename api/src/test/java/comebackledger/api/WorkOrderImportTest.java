package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.equalTo;
import static org.hamcrest.Matchers.hasItem;
import static org.hamcrest.Matchers.hasSize;
import static org.junit.jupiter.api.Assertions.assertEquals;

import comebackledger.api.caller.LocalCallers;
import io.restassured.config.EncoderConfig;
import io.restassured.config.RestAssuredConfig;
import io.restassured.http.ContentType;
import io.restassured.response.ValidatableResponse;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A fleet that has nothing but a table of work orders. */
class WorkOrderImportTest {
    private static final String HEADER = "unit,visit,arrived_at,released_at,odometer_km,complaint,codes,place,action,cause,claims_fixed,note\r\n";

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

    private static ValidatableResponse take(RunningLedger server, String table) {
        return given().port(server.port()).config(RestAssuredConfig.config().encoderConfig(
                EncoderConfig.encoderConfig().appendDefaultContentCharsetToContentTypeIfUndefined(false).encodeContentTypeAs("text/csv",
                        ContentType.TEXT)))
                .contentType("text/csv").body(table.getBytes(java.nio.charset.StandardCharsets.UTF_8)).post("/v1/imports").then();
    }

    private static String export(RunningLedger server) {
        return given().port(server.port()).accept("text/csv").get("/v1/exports").then().statusCode(200).contentType("text/csv; charset=utf-8")
                .extract()
                .asString();
    }

    private ValidatableResponse get(String path) {
        return given().port(server.port()).get(path).then().statusCode(200);
    }

    private static String row(String visit, String day, String more) {
        return "T-1," + visit + ",2026-03-" + day + "T08:00:00Z,2026-03-" + day + "T12:00:00Z,412300," + more + "\r\n";
    }

    @Test
    void rowsOfOneVisit_areOneVisitOfAUnitThatNobodyRegistered() {
        take(server, HEADER + row("WO-1", "01", "\"brake lamp, after rain\",U0121; 639/9,network.j1939-1.brakes,cleaned,water,yes,")
                + "T-1,WO-1,2026-03-01T08:00:00Z,,,,,charge-air.cooler-core,replaced,,no,\r\n" + row("WO-2", "09", ",,,,,,=1+1"))
                .statusCode(200).body("accepted", equalTo(3)).body("rejected", equalTo(0)).body("problems", hasSize(0));

        get("/v1/units/T-1/visits/WO-1").body("evidence.complaint", equalTo("brake lamp, after rain"))
                .body("evidence.meters.odometer.value", equalTo(412300)).body("evidence.repairs.action", equalTo(List.of("cleaned", "replaced")))
                .body("evidence.repairs.claimsFixed", equalTo(List.of(true, false))).body("evidence.codes[0].code", equalTo("U0121"))
                .body("evidence.codes[1].spn", equalTo(639)).body("evidence.codes.status", equalTo(List.of("active", "active")));
        get("/v1/units/T-1/trails").body("items.place", hasItem("network.j1939-1.brakes"));
    }

    @Test
    void table_whenSentAgain_changesNothing() {
        String table = HEADER + row("WO-1", "01", "low power,,,,,,");
        take(server, table).body("accepted", equalTo(1));

        take(server, table).body("accepted", equalTo(0)).body("unchanged", equalTo(1)).body("rejected", equalTo(0));
        take(server, table.replace("low power", "no power")).body("rejected", equalTo(1)).body("problems[0].problem.status", equalTo(409));
    }

    @Test
    void firstRow_withWrongColumns_refusesAllAtOnceAndTakesNothing() {
        take(server, "unit,wo,arrived_at,unit\r\nT-1,WO-1,2026-03-01T08:00:00Z,T-1\r\n").statusCode(422)
                .body("faults.pointer", equalTo(List.of("column 2", "column 4", "visit"))).body("faults[0].detail", containsString("claims_fixed"));

        get("/v1/units").body("items", hasSize(0));
    }

    @Test
    void row_whenBad_isToldByItsLineAndColumn() {
        String table = HEADER + row("WO-1", "01", ",,,,,,")
                + row("WO-2", "02", ",,network.j1939-1.brakes,polished,,perhaps,").replace("412300", "412,300")
                + row("WO-3", "03", ",U0121 X9999,network.j1939-1.brakes,polished,,yes,")
                + row("WO-4", "04", ",,,,,,").replace("2026-03-04T08", "2026-03-44T08")
                + "T-1,WO-5\r\n" + row("WO-6", "06", ",,,,,perhaps,").replace("412300", "\"412,300\"") + row("WO-7", "07", ",,,,,,");

        take(server, table).statusCode(200).body("accepted", equalTo(2)).body("problems.line", equalTo(List.of(3, 4, 5, 6, 7)))
                .body("problems[0].problem.detail", containsString("13 cells and the first row 12"))
                .body("problems[1].problem.faults.pointer", equalTo(List.of("codes", "action")))
                .body("problems[2].problem.faults.pointer", equalTo(List.of("arrived_at")))
                .body("problems[3].problem.detail", containsString("2 cells"))
                .body("problems[4].problem.faults.pointer", equalTo(List.of("odometer_km", "claims_fixed", "place", "action")));
    }

    @Test
    void visit_whenOneOfItsRowsIsBad_isLeftOutWhole() {
        String second = "T-1,WO-1,2026-03-01T08:00:00Z,,412999,,,network.j1939-1.brakes,cleaned,,yes,\r\n";
        take(server, HEADER + row("WO-1", "01", ",,,,,,") + second + row("WO-2", "02", ",,,,,,"))
                .body("accepted", equalTo(1)).body("rejected", equalTo(2)).body("problems.line", equalTo(List.of(2, 3)))
                .body("problems[0].problem.faults[0].pointer", equalTo("odometer_km, line 3"))
                .body("problems[1].problem.detail", containsString("line 2"));

        String broken = "T-1,WO-3,2026-03-03T08:00:00Z\r\n";
        take(server, HEADER + row("WO-3", "03", ",,,,,,") + broken + row("WO-3", "03", ",,,,,,")).body("accepted", equalTo(0))
                .body("problems.line", equalTo(List.of(2, 3, 4))).body("problems[0].problem.detail", containsString("line 3"));
    }

    /** Text in quotes may hold the separator, quotes and line ends; a quote that is never closed spoils its own line only. */
    @Test
    void quotes_areReadAsTheStandardSays() {
        take(server,
                HEADER + row("WO-1", "01", "\"says \"\"no power\"\",\r\nuphill\",,,,,,") + row("WO-2", "02", "\"never closed,,,,,,")
                        + row("WO-3", "03", ",,,,,,")
                        + row("WO-4", "04", "5\" pipe,,,,,,") + row("WO-5", "05", "\"closed\" early,,,,,,"))
                .body("accepted", equalTo(3)).body("problems.line", equalTo(List.of(4, 7)));

        get("/v1/units/T-1/visits/WO-1").body("evidence.complaint", equalTo("says \"no power\",\nuphill"));
        get("/v1/units/T-1/visits/WO-4").body("evidence.complaint", equalTo("5\" pipe"));
    }

    @Test
    void table_ofASpreadsheetElsewhere_isRead() {
        String table = (HEADER + row("WO-1", "01", ",,,,,,")).replace(',', ';');
        take(server, "\uFEFF" + table).body("accepted", equalTo(1)).body("rejected", equalTo(0));

        take(server, "").statusCode(200).body("accepted", equalTo(0));
        given().port(server.port()).contentType("text/csv; charset=utf-16").body("x").post("/v1/imports").then().statusCode(415);
    }

    @Test
    void export_whenImportedElsewhere_exportsTheSameTable() {
        take(server, HEADER + row("WO-1", "01", "\"=cmd, after rain\",U0121 639/9,network.j1939-1.brakes,cleaned,water,yes,@note")
                + "T-1,WO-1,2026-03-01T08:00:00Z,,,,,charge-air.cooler-core,replaced,,no,\r\n" + row("WO-2", "09", ",,,,,,").replace("T-1", "T-2"))
                .body("accepted", equalTo(3));

        String table = export(server);
        assertEquals(List.of(
                "unit,visit,arrived_at,released_at,group,odometer_km,odometer_mi,engine_hours,complaint,codes,codes_status,codes_network,place,"
                        + "action,cause,part,claims_fixed,shop,note",
                "T-1,WO-1,2026-03-01T08:00:00Z,2026-03-01T12:00:00Z,,412300,,,\"'=cmd, after rain\",U0121 639/9,active,,network.j1939-1.brakes,cleaned,water,"
                        + ",yes,,'@note",
                "T-1,WO-1,2026-03-01T08:00:00Z,,,,,,,,,,charge-air.cooler-core,replaced,,,no,,",
                "T-2,WO-2,2026-03-09T08:00:00Z,2026-03-09T12:00:00Z,,412300,,,,,,,,,,,,,"), table.lines().toList());
        try (RunningLedger other = new RunningLedger(folder.resolve("other"), new LocalCallers("default"))) {
            take(other, table).body("accepted", equalTo(3)).body("rejected", equalTo(0));

            assertEquals(table, export(other));
            given().port(other.port()).get("/v1/units/T-1/visits/WO-1").then().body("evidence.note", equalTo("@note"));
        }
    }
}
