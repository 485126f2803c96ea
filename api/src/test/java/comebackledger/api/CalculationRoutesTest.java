package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.hamcrest.Matchers.containsString;
import static org.hamcrest.Matchers.equalTo;
import static org.hamcrest.Matchers.hasItem;

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
