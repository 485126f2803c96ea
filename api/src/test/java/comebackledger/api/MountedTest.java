package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import comebackledger.api.caller.Caller;
import comebackledger.api.caller.Role;
import comebackledger.api.http.Route;
import comebackledger.openapi.Problem;
import io.helidon.http.HeaderNames;
import io.helidon.http.Status;
import io.helidon.webserver.WebServer;
import io.helidon.webserver.http.ServerRequest;
import java.io.IOException;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** The routes inside a host's server: its security, its prefix, its own routes and errors untouched. */
class MountedTest {
    private static WebServer host;

    /** The host's security: a header names the user. */
    private static Caller fromHost(ServerRequest request) {
        return request.headers().first(HeaderNames.create("X-Host-User")).map(user -> new Caller(user, "north", Set.of(Role.PLANNER)))
                .orElseThrow(() -> new Problem(Problem.Slug.UNAUTHENTICATED, "Sign in first."));
    }

    @BeforeAll
    static void start() {
        Route me = Route.get("/v1/names/{name}", Set.of(Role.PLANNER), exchange -> exchange.send(200,
                JsonNodeFactory.instance.objectNode().put("name", exchange.parameter("name")).put("by", exchange.caller().name())));
        Route admin = Route.get("/v1/admin", Set.of(Role.ADMINISTRATOR), exchange -> exchange.send(200, JsonNodeFactory.instance.objectNode()));
        LedgerService service = new LedgerService(List.of(me, admin), MountedTest::fromHost);
        host = WebServer.builder().host("127.0.0.1").port(0).featuresDiscoverServices(false)
                .routing(routing -> routing
                        .get("/own", (_, response) -> response.send("own"))
                        .get("/own/bug", (_, _) -> {
                            throw new IllegalStateException("the host's");
                        })
                        .error(IllegalStateException.class, (_, response, _) -> response.status(Status.create(418)).send("host's words"))
                        .register("/their/prefix", service)
                        .addFeature(new LedgerFeature(service)))
                .build().start();
    }

    @AfterAll
    static void stop() {
        host.stop();
    }

    private static RawHttp.Answer get(String path, String headers) throws IOException {
        return RawHttp.send(host.port(), "GET " + path + " HTTP/1.1\r\nHost: host.example\r\n" + headers + "\r\n");
    }

    @Test
    void route_answersUnderThePrefixAndAtTheRoot() throws IOException {
        assertEquals("{\"name\":\"T-1\",\"by\":\"pat\"}", get("/their/prefix/v1/names/T-1", "X-Host-User: pat\r\n").body());
        assertEquals("{\"name\":\"T-1\",\"by\":\"pat\"}", get("/v1/names/T-1", "X-Host-User: pat\r\n").body());
    }

    @Test
    void caller_isWhoTheHostSays() throws IOException {
        assertEquals(401, get("/their/prefix/v1/names/T-1", "").status());
        assertEquals(403, get("/their/prefix/v1/admin", "X-Host-User: pat\r\n").status());
    }

    @Test
    void errorsInsideThePrefix_areOurs() throws IOException {
        RawHttp.Answer answer = get("/their/prefix/v1/nothing", "X-Host-User: pat\r\n");

        assertEquals(404, answer.status());
        assertTrue(answer.hasHeader("content-type: application/problem+json"), answer.head());
    }

    @Test
    void errorsElsewhere_areTheHosts() throws IOException {
        assertEquals("own", get("/own", "").body());
        assertEquals("host's words", get("/own/bug", "").body());
        assertFalse(get("/nothing", "").hasHeader("content-type: application/problem+json"));
    }
}
