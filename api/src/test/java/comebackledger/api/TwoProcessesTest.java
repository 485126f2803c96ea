package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.hamcrest.Matchers.equalTo;
import static org.hamcrest.Matchers.hasItem;
import static org.hamcrest.Matchers.hasSize;
import static org.hamcrest.Matchers.not;
import static org.junit.jupiter.api.Assertions.assertEquals;

import comebackledger.api.caller.LocalCallers;
import comebackledger.api.route.StoredRoutes;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.LedgerCodec;
import comebackledger.storage.JdbcStore;
import io.restassured.response.ValidatableResponse;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;

/** Two services over one PostgreSQL, each with its own pools and its own kept answers, asked over real HTTP by turns. */
@TestMethodOrder(MethodOrderer.MethodName.class)
class TwoProcessesTest {
    private static final Instant NOW = Instant.now();

    private static EmbeddedPostgres postgres;
    private static Service one;
    private static Service other;

    private static final class Service implements AutoCloseable {
        private final JdbcStore store;
        private final RunningServer server;

        Service(String url) {
            store = JdbcStore.postgres(url, "postgres", "postgres");
            server = new RunningServer(StoredRoutes.of(new Ledger(store, new LedgerCodec(), InstantSource.system(), (_, _, _, _) -> {})),
                    new LocalCallers("default"));
        }

        @Override
        public void close() {
            server.close();
            store.close();
        }
    }

    @BeforeAll
    static void start() throws IOException {
        postgres = EmbeddedPostgres.builder().setServerConfig("max_connections", "60").start();
        String url = postgres.getJdbcUrl("postgres", "postgres");
        one = new Service(url);
        other = new Service(url);
    }

    @AfterAll
    static void stop() throws IOException {
        one.close();
        other.close();
        postgres.close();
    }

    private static ValidatableResponse put(Service service, String path, String body) {
        return given().port(service.server.port()).contentType("application/json").body(body).put("/v1/units/" + path).then();
    }

    private static ValidatableResponse get(Service service, String path) {
        return given().port(service.server.port()).get(path).then().statusCode(200);
    }

    private static void unit(Service service, String unit) {
        put(service, unit, "{\"group\": \"linehaul\", \"build\": {\"networks\": [{\"name\": \"j1939-1\", \"safety\": true, \"nodes\": "
                + "[{\"module\": \"engine\"}, {\"module\": \"brakes\", \"safety\": true}]}]}}").statusCode(201);
    }

    private static String visit(int daysAgo, String more) {
        Instant at = NOW.minusSeconds(86_400L * daysAgo);
        return "{\"arrivedAt\": \"" + at + "\", \"releasedAt\": \"" + at.plusSeconds(3600) + "\"" + more + "}";
    }

    private static String silent(String answered, String silent) {
        return ", \"busChecks\": [{\"network\": \"j1939-1\", \"rollCall\": {\"answered\": [" + answered + "], \"silent\": [" + silent + "]}}]";
    }

    /** A fault, a claimed repair and its return, told to either of the two: each answers with all of it at once, the kept answer of the other included. */
    @Test
    void a_whatOneIsTold_theOtherKnowsAtOnce() {
        unit(one, "T-1");
        put(other, "T-1/visits/WO-1", visit(40, silent("\"engine\", \"brakes\"", ""))).statusCode(201);
        get(one, "/v1/units/T-1/readiness").body("answer", equalTo("ready"));
        get(other, "/v1/units/T-1/readiness").body("answer", equalTo("ready"));

        put(one, "T-1/visits/WO-2", visit(30, silent("\"engine\"", "\"brakes\""))).statusCode(201);
        get(other, "/v1/units/T-1/readiness").body("answer", equalTo("hold")).body("reasons.reason", hasItem("safety-module-silent"));
        put(other, "T-1/visits/WO-3",
                visit(20, ", \"repairs\": [{\"place\": \"network.j1939-1.brakes\", \"action\": \"replaced\", \"claimsFixed\": true}]"))
                .statusCode(201);
        get(one, "/v1/units/T-1/readiness").body("answer", equalTo("caution")).body("reasons.reason", not(hasItem("safety-module-silent")));
        put(one, "T-1/visits/WO-4", visit(10, silent("\"engine\"", "\"brakes\""))).statusCode(201);

        for (Service service : List.of(one, other)) {
            get(service, "/v1/units/T-1/trails").body("items[0].place", equalTo("network.j1939-1.brakes")).body("items[0].episodes", hasSize(2))
                    .body("items[0].episodes[1].comeback", equalTo(true));
            get(service, "/v1/fleet/offenders").body("items[0].unit", equalTo("T-1")).body("items[0].comebacks", equalTo(1));
        }
        assertEquals(export(one), export(other));
    }

    private static String export(Service service) {
        return get(service, "/v1/exports").extract().asString();
    }

    /** Both write to the same units at the same time: nothing is lost, nothing comes twice, and the feed of either names each change once. */
    @Test
    void b_visitsToldToBothAtOnce_areAllKept() throws Exception {
        unit(one, "T-2");
        unit(other, "T-3");
        try (var threads = Executors.newFixedThreadPool(8)) {
            List<Future<Integer>> answers = new ArrayList<>();
            IntStream.range(0, 60)
                    .forEach(i -> answers.add(threads.submit(() -> put(i % 2 == 0 ? one : other, "T-" + (2 + i / 2 % 2) + "/visits/WO-" + i / 4,
                            visit(100 - i / 4, ", \"note\": \"same\"")).extract().statusCode())));
            int created = 0;
            for (Future<Integer> answer : answers) {
                created += answer.get() == 201 ? 1 : 0;
            }
            assertEquals(30, created, "of two who tell the same visit one is first");
        }
        for (Service service : List.of(one, other)) {
            get(service, "/v1/units/T-2/visits?limit=1000").body("items", hasSize(15));
            List<Object> told = get(service, "/v1/changes?limit=1000").extract().jsonPath()
                    .getList("items.findAll { it.kind == 'visit-recorded' && it.unit != 'T-1' }.collect { it.unit + it.visit }");
            assertEquals(30, told.size());
            assertEquals(30, told.stream().distinct().count());
        }
    }

    /** An import on one side, while the other keeps answering and learns of another policy. */
    @Test
    void c_importAndPolicyOfOne_countForTheOther() {
        StringBuilder lines = new StringBuilder();
        IntStream.range(0, 50).forEach(i -> lines.append("{\"unit\": {\"id\": \"I-").append(i).append("\"}}\n{\"visit\": {\"unit\": \"I-").append(i)
                .append("\", \"id\": \"WO\", ").append(visit(100, "").substring(1)).append("}\n"));
        given().port(one.server.port()).contentType("application/x-ndjson; charset=utf-8")
                .body(lines.toString().getBytes(java.nio.charset.StandardCharsets.UTF_8))
                .post("/v1/imports").then().statusCode(200).body("accepted", equalTo(100));
        get(other, "/v1/units/I-49/readiness").body("answer", equalTo("ready"));

        given().port(one.server.port()).contentType("application/json").header("If-Match", "\"0\"").body("{\"evidenceMaxAgeDays\": 50}")
                .put("/v1/policy")
                .then().statusCode(200);
        get(other, "/v1/units/I-49/readiness").body("answer", equalTo("unknown")).body("policyVersion", equalTo(1));
    }
}
