package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.equalTo;
import static org.hamcrest.Matchers.greaterThan;
import static org.hamcrest.Matchers.hasItem;

import comebackledger.api.caller.LocalCallers;
import io.restassured.response.ValidatableResponse;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** That each calculation is reached by its name; what it answers is tested beside its mapping. */
class CalculationRoutesTest {
    private static RunningServer server;

    @BeforeAll
    static void start() {
        server = new RunningServer(List.of(), new LocalCallers("default"));
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static ValidatableResponse post(String name, String body) {
        return given().port(server.port()).contentType("application/json").body(body).post("/v1/calculations/" + name).then();
    }

    @Test
    void codes_areRead() {
        post("codes", "{\"codes\":[\"U0121\"]}").statusCode(200).body("codes[0].code", equalTo("U0121"));
    }

    @Test
    void busCheck_isAnswered() {
        post("bus-check", "{\"power\": \"off\", \"highLow\": {\"value\": 121, \"unit\": \"ohm\"}}").statusCode(200)
                .body("verdict", equalTo("outside")).body("terminatorsSeen", equalTo(1));
    }

    @Test
    void orificeFlow_isAnswered() {
        post("orifice-flow", "{\"diameter\": {\"value\": 1.5, \"unit\": \"mm\"}, \"upstreamPressure\": {\"value\": 15, \"unit\": \"psi\"}}")
                .statusCode(200).body("regime", equalTo("choked"));
    }

    @Test
    void chargeAirTest_isAnswered() {
        post("charge-air-test", "{\"method\": \"held-flow\", \"testPressure\": {\"value\": 15, \"unit\": \"psi\"}, "
                + "\"flow\": {\"value\": 22, \"unit\": \"L/min\"}}").statusCode(200).body("orificeMm.value", greaterThan(0.5f));
    }

    @Test
    void name_whenUnknown_isNotFound() {
        post("astrology", "{}").statusCode(404).contentType("application/problem+json")
                .body("type", equalTo("urn:comeback-ledger:problem:not-found")).body("detail", containsString("codes"));
    }

    @Test
    void field_whenUnknown_isRefusedWithItsPointer() {
        post("codes", "{\"kodes\":[]}").statusCode(422).body("type", equalTo("urn:comeback-ledger:problem:unknown-field"))
                .body("faults.pointer", hasItem("/kodes"));
    }
}
