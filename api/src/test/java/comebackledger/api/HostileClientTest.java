package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import comebackledger.api.caller.LocalCallers;
import comebackledger.api.http.Handler;
import comebackledger.api.http.Route;
import comebackledger.api.http.ServerLimits;
import comebackledger.api.route.RouteTable;
import comebackledger.openapi.Json;
import java.io.IOException;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Whatever bytes arrive, the answer is a problem document that says what to do, never a 5xx, and the server goes on. */
class HostileClientTest {
    private static RunningServer server;

    @BeforeAll
    static void start() {
        Handler echo = exchange -> exchange.send(200, exchange.json());
        Handler hello = exchange -> {
            exchange.query().time("at");
            exchange.query().limit();
            exchange.query().check();
            exchange.send(200, JsonNodeFactory.instance.objectNode().put("name", exchange.parameter("name")));
        };
        Handler bug = _ -> {
            throw new IllegalStateException("secret text");
        };
        Route slow = Route.put("/v1/slow", RouteTable.ANYBODY, echo);
        server = new RunningServer(List.of(
                Route.put("/v1/echo", RouteTable.ANYBODY, echo),
                Route.get("/v1/names/{name}", RouteTable.ANYBODY, hello).asking("at", "limit").producing(Route.JSON, Route.CSV),
                Route.get("/v1/bug", RouteTable.ANYBODY, bug),
                new Route("PUT", slow.pattern(), slow.roles(), slow.body(), Set.of(), slow.produces(), Duration.ofSeconds(1), slow.handler())),
                new LocalCallers("default"));
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static Arguments row(String name, String request, int status, String slug) {
        return Arguments.of(name, request.getBytes(StandardCharsets.ISO_8859_1), status, slug);
    }

    private static String put(String body) {
        return "PUT /v1/echo HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: "
                + body.getBytes(StandardCharsets.ISO_8859_1).length + "\r\n\r\n" + body;
    }

    private static String get(String target) {
        return "GET " + target + " HTTP/1.1\r\nHost: localhost\r\n\r\n";
    }

    static Stream<Arguments> requests() {
        String json = "PUT /v1/echo HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n";
        return Stream.of(
                row("not JSON", put("{"), 400, "malformed-json"),
                row("empty body", put(""), 400, "malformed-json"),
                row("no length at all", json + "\r\n", 400, "malformed-json"),
                row("nothing but white space", put("  \n"), 400, "malformed-json"),
                row("a name twice", put("{\"a\":1,\"a\":2}"), 400, "malformed-json"),
                row("something behind", put("{} {}"), 400, "malformed-json"),
                row("nested 33 deep", put("{\"a\":" + "[".repeat(32) + "]".repeat(32) + "}"), 400, "malformed-json"),
                row("nested 100 000 deep", put("{\"a\":" + "[".repeat(100_000)), 400, "malformed-json"),
                row("a number of 61 characters", put("{\"a\":" + "1".repeat(61) + "}"), 400, "malformed-json"),
                row("bad UTF-8", put("{\"a\":\"\u00c3\u0028\"}"), 400, "malformed-json"),
                row("UTF-16", put("\u00fe\u00ff\0{\0}"), 400, "malformed-json"),
                row("NaN", put("{\"a\":NaN}"), 400, "malformed-json"),
                row("a list", put("[]"), 422, "invalid-value"),
                row("null", put("null"), 422, "invalid-value"),
                row("a null inside", put("{\"a\":[null]}"), 422, "invalid-value"),
                row("half a surrogate pair", put("{\"a\":\"\\ud800\"}"), 422, "invalid-value"),
                row("one byte over 1 MiB", put("{\"a\":\"" + "x".repeat((1 << 20) - 7) + "\"}"), 413, "payload-too-large"),
                row("a huge announced length", json + "Content-Length: 99999999999\r\n\r\n{", 413, "payload-too-large"),
                row("no media type", put("{}").replace("Content-Type: application/json\r\n", ""), 415, "unsupported-media-type"),
                row("another media type", put("{}").replace("application/json", "text/plain"), 415, "unsupported-media-type"),
                row("a broken media type", put("{}").replace("application/json", ";;/=\""), 415, "unsupported-media-type"),
                row("another charset", put("{}").replace("application/json", "application/json; charset=utf-16"), 415, "unsupported-media-type"),
                row("a content encoding", put("{}").replace("Host:", "Content-Encoding: gzip\r\nHost:"), 415, "unsupported-media-type"),
                row("not acceptable", put("{}").replace("Host:", "Accept: image/png\r\nHost:"), 406, "not-acceptable"),
                row("no such path", get("/v1/nothing"), 404, "not-found"),
                row("no path at all", get("/"), 404, "not-found"),
                row("the root of the routes", get("/v1"), 404, "not-found"),
                row("a slash at the end", get("/v1/echo/"), 404, "not-found"),
                row("path traversal", get("/v1/../../etc/passwd"), 404, "not-found"),
                row("escaped path traversal", get("/v1/%2e%2e/%2e%2e/etc/passwd"), 404, "not-found"),
                row("a very deep path", get("/v1" + "/a".repeat(1000)), 404, "not-found"),
                row("a wrong method", get("/v1/echo"), 405, "method-not-allowed"),
                row("an unknown method", get("/v1/echo").replace("GET", "BREW"), 405, "method-not-allowed"),
                row("TRACE", get("/v1/echo").replace("GET", "TRACE"), 405, "method-not-allowed"),
                row("an unknown query name", get("/v1/names/x?color=red"), 422, "unknown-field"),
                row("a page too large", get("/v1/names/x?limit=1001"), 422, "invalid-value"),
                row("a page of none", get("/v1/names/x?limit=0"), 422, "invalid-value"),
                row("a date alone", get("/v1/names/x?at=2026-01-01"), 422, "invalid-value"),
                row("a query name twice", get("/v1/names/x?limit=1&limit=2"), 422, "invalid-value"),
                row("a broken escape in the query", get("/v1/names/x?limit=%zz"), 400, "malformed-request"),
                row("bytes that are no UTF-8 in the query", get("/v1/names/x?limit=%ff"), 422, "invalid-value"),
                row("a broken escape in the path", get("/v1/names/%zz"), 400, "malformed-request"),
                row("bytes that are no UTF-8 in the path", get("/v1/names/%ff%fe"), 404, "not-found"),
                row("a name from elsewhere", get("/v1/names/x").replace("localhost", "attacker.example"), 403, "forbidden"),
                row("no Host", "GET /v1/names/x HTTP/1.1\r\n\r\n", 400, "malformed-request"),
                row("two lengths", json + "Content-Length: 2\r\nContent-Length: 3\r\n\r\n{}", 400, "malformed-request"),
                row("length and chunks", json + "Content-Length: 2\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n", 400, "malformed-request"),
                row("a negative length", json + "Content-Length: -5\r\n\r\n", 400, "malformed-request"),
                row("a length in words", json + "Content-Length: two\r\n\r\n{}", 400, "malformed-request"),
                row("broken chunks", json + "Transfer-Encoding: chunked\r\n\r\nZZ\r\n{}\r\n0\r\n\r\n", 400, "malformed-request"),
                row("a negative chunk", json + "Transfer-Encoding: chunked\r\n\r\n-2\r\n{}\r\n0\r\n\r\n", 400, "malformed-request"),
                row("another transfer encoding", json + "Transfer-Encoding: gzip\r\n\r\n{}", 400, "malformed-request"),
                row("a header without a colon", "GET /v1/names/x HTTP/1.1\r\nHost: localhost\r\nbroken\r\n\r\n", 400, "malformed-request"),
                row("a folded header", "GET /v1/names/x HTTP/1.1\r\nHost: localhost\r\nA: b\r\n c\r\n\r\n", 400, "malformed-request"),
                row("a header of 20 000 bytes", get("/v1/names/x").replace("Host:", "A: " + "b".repeat(20_000) + "\r\nHost:"), 400,
                        "malformed-request"),
                row("a request line of 5 000 bytes", get("/v1/names/" + "x".repeat(5000)), 400, "malformed-request"),
                row("a method of bad characters", get("/v1/names/x").replace("GET", "G(T"), 400, "malformed-request"),
                row("a control character in the path", get("/v1/names/\u0001"), 400, "malformed-request"));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("requests")
    void answer_isAProblemDocument(String name, byte[] request, int status, String slug) throws IOException {
        RawHttp.Answer answer = RawHttp.send(server.port(), request, false);

        assertEquals(status, answer.status(), () -> name + ": " + answer);
        assertTrue(answer.hasHeader("content-type: application/problem+json"), answer.head());
        JsonNode problem = Json.object(answer.body().getBytes(StandardCharsets.UTF_8));
        assertEquals("urn:comeback-ledger:problem:" + slug, problem.path("type").asText());
        assertEquals(status, problem.path("status").asInt());
        assertTrue(problem.path("detail").asText().length() > 10, "says what to do");
        assertTrue(answer.hasHeader("x-content-type-options: nosniff") && answer.hasHeader("cache-control: no-store"), answer.head());
        assertEquals(200, RawHttp.send(server.port(), get("/v1/names/x")).status(), "the server goes on");
    }

    /** No answer in our words would be understood by these. */
    @ParameterizedTest
    @ValueSource(strings = {"GET /v1/names/x HTTP/9.1\r\nHost: localhost\r\n\r\n", "hello\r\n\r\n", "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"})
    void connection_whenNotHttp11_isClosedOrRefused(String bytes) throws IOException {
        RawHttp.Answer answer = RawHttp.send(server.port(), bytes);

        assertTrue(answer.status() == -1 || answer.status() >= 400 && answer.status() < 500, answer.toString());
    }

    @Test
    void body_whenCutAtEachByte_isRefusedOrUnanswered() throws IOException {
        byte[] request = put("{\"note\":\"ab\"}").getBytes(StandardCharsets.ISO_8859_1);
        int head = new String(request, StandardCharsets.ISO_8859_1).indexOf("\r\n\r\n") + 4;
        for (int length = 1; length < request.length; length++) {
            RawHttp.Answer answer = RawHttp.send(server.port(), java.util.Arrays.copyOf(request, length), true);

            boolean refused = answer.status() == 400 || answer.status() == -1 && length < head;
            assertTrue(refused || answer.status() == -1, length + ": " + answer);
        }
    }

    @Test
    void body_whenItStops_isCutOffAtTheDeadline() throws IOException {
        long start = System.nanoTime();
        try (Socket socket = new Socket("127.0.0.1", server.port())) {
            socket.setSoTimeout(10_000);
            socket.getOutputStream().write(put("{}").replace("/v1/echo", "/v1/slow").replace("Length: 2", "Length: 20")
                    .getBytes(StandardCharsets.ISO_8859_1));
            int first;
            try {
                first = socket.getInputStream().read();
            } catch (java.net.SocketException e) {
                first = -1;
            }
            assertTrue(first == -1 || first == 'H', "closed, or told");
        }
        assertTrue(System.nanoTime() - start < Duration.ofSeconds(8).toNanos(), "the deadline of this route is one second");
    }

    /** More stalled bodies than places for requests: the server must not wait for the rest of what it refused. */
    @Test
    void bodies_whenRefusedAndNeverFinished_giveTheirPlacesBack() throws Exception {
        List<Socket> stalled = new java.util.ArrayList<>();
        try {
            for (int i = 0; i < ServerLimits.REQUESTS_AT_ONCE + 10; i++) {
                Socket socket = new Socket("127.0.0.1", server.port());
                stalled.add(socket);
                socket.getOutputStream().write(("POST /v1/nothing HTTP/1.1\r\nHost: localhost\r\nContent-Length: 99999999\r\n\r\n{")
                        .getBytes(StandardCharsets.ISO_8859_1));
            }
            org.awaitility.Awaitility.await().atMost(Duration.ofSeconds(10)).pollInterval(Duration.ofMillis(250))
                    .until(() -> RawHttp.send(server.port(), get("/v1/names/x")).status() == 200);
        } finally {
            for (Socket socket : stalled) {
                socket.close();
            }
        }
    }

    /** Whoever reads to the end of the connection must find it. */
    @ParameterizedTest
    @ValueSource(strings = {"/v1/names/x", "/v1/nothing", "/nothing", "/health", "/openapi"})
    void connection_whenAskedToClose_isClosedBehindTheAnswer(String path) throws IOException {
        try (Socket socket = new Socket("127.0.0.1", server.port())) {
            socket.setSoTimeout(10_000);
            socket.getOutputStream().write(get(path).replace("Host:", "Connection: close\r\nHost:").getBytes(StandardCharsets.ISO_8859_1));

            String answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1);

            assertTrue(answer.startsWith("HTTP/1.1 ") && answer.contains("\r\nConnection: close\r\n"), answer);
        }
    }

    @Test
    void body_whenHeldBackAndRefused_isNotAskedForAfterTheAnswer() throws IOException {
        try (Socket socket = new Socket("127.0.0.1", server.port())) {
            socket.setSoTimeout(10_000);
            socket.getOutputStream()
                    .write(("PUT /v1/echo HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 2000000\r\n"
                            + "Expect: 100-continue\r\n\r\n").getBytes(StandardCharsets.ISO_8859_1));

            String answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1);

            assertTrue(answer.startsWith("HTTP/1.1 413 ") && answer.contains("\r\nConnection: close\r\n"), answer);
            assertEquals(0, answer.lastIndexOf("HTTP/1.1 "), answer);
        }
    }

    @Test
    void query_tellsUnknownNamesAndImpossibleValuesAtOnce() throws IOException {
        RawHttp.Answer answer = RawHttp.send(server.port(), get("/v1/names/x?color=red&limit=0&at=now&at=later"));

        assertEquals(422, answer.status());
        JsonNode problem = Json.object(answer.body().getBytes(StandardCharsets.UTF_8));
        assertEquals("urn:comeback-ledger:problem:invalid-value", problem.path("type").asText());
        assertEquals(Set.of("?color", "?limit", "?at"), Set.copyOf(problem.path("faults").findValuesAsText("pointer")));
    }

    @Test
    void bug_isAnIdAndNoTrace() throws IOException {
        RawHttp.Answer answer = RawHttp.send(server.port(), get("/v1/bug"));

        assertEquals(500, answer.status());
        assertTrue(answer.body().contains("internal-error") && !answer.body().contains("secret") && !answer.body().contains("at "), answer.body());
    }

    @Test
    void body_ofExactlyTheLimit_isRead() throws IOException {
        RawHttp.Answer answer = RawHttp.send(server.port(), put("{\"a\":\"" + "x".repeat((1 << 20) - 8) + "\"}"));

        assertEquals(200, answer.status());
    }

    @Test
    void head_isTheGetWithoutItsBody() throws IOException {
        RawHttp.Answer answer = RawHttp.send(server.port(), get("/v1/names/x").replace("GET", "HEAD").replace("Host", "Connection: close\r\nHost"));

        assertEquals(200, answer.status());
        assertTrue(answer.hasHeader("content-length: 12"), answer.head());
        assertEquals("", answer.body());
    }

    @Test
    void options_nameTheMethods() throws IOException {
        RawHttp.Answer answer = RawHttp.send(server.port(), get("/v1/names/x").replace("GET", "OPTIONS"));

        assertEquals(204, answer.status());
        assertTrue(answer.hasHeader("allow: GET, HEAD, OPTIONS"), answer.head());
    }

    @Test
    void metrics_countRequestsByRoute() throws IOException {
        RawHttp.send(server.port(), get("/v1/names/x"));

        String metrics = RawHttp.send(server.port(), get("/metrics")).body();

        assertTrue(metrics.contains("ledger_requests_total{route=\"GET /v1/names/{name}\""), metrics);
        assertTrue(metrics.contains("ledger_request_time_seconds"), metrics);
    }

    @Test
    void slash_whenEscaped_staysInsideItsSegment() throws IOException {
        RawHttp.Answer answer = RawHttp.send(server.port(), get("/v1/names/a%2Fb"));

        assertTrue(answer.status() == 404 || answer.body().contains("a/b"), answer.toString());
    }
}
