package comebackledger.api;

import static io.restassured.RestAssured.given;
import static org.hamcrest.Matchers.equalTo;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import comebackledger.api.caller.LocalCallers;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.HttpURLConnection;
import java.net.Socket;
import java.net.URI;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Iterator;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import java.util.zip.GZIPOutputStream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Imports that mean no good: what is bad is told within bounds, and what is good around it is kept. Everything goes over real HTTP. */
class HostileImportTest {
    private static final int LISTED = 1_000;

    @TempDir
    Path folder;

    private RunningLedger server;

    @BeforeEach
    void start() {
        server = new RunningLedger(folder, new LocalCallers("default"));
    }

    @AfterEach
    void stop() {
        server.close();
    }

    private JsonNode take(Iterator<byte[]> pieces) throws IOException {
        return take(server, pieces);
    }

    /** Streams the pieces, chunked, so that nothing here holds them all. */
    private static JsonNode take(RunningLedger into, Iterator<byte[]> pieces) throws IOException {
        HttpURLConnection call = (HttpURLConnection) URI.create("http://127.0.0.1:" + into.port() + "/v1/imports").toURL().openConnection();
        call.setRequestMethod("POST");
        call.setDoOutput(true);
        call.setChunkedStreamingMode(1 << 16);
        call.setRequestProperty("Content-Type", "application/x-ndjson");
        try (OutputStream out = call.getOutputStream()) {
            while (pieces.hasNext()) {
                out.write(pieces.next());
            }
        }
        assertEquals(200, call.getResponseCode());
        try (InputStream in = call.getInputStream()) {
            byte[] answer = in.readAllBytes();
            assertTrue(answer.length < 2_000_000, "the answer is bounded, was " + answer.length);
            return new ObjectMapper().readTree(answer);
        }
    }

    private JsonNode take(List<byte[]> lines) throws IOException {
        return take(lines.stream().flatMap(line -> Stream.of(line, new byte[]{'\n'})).iterator());
    }

    /** The largest document that a {@code PUT} takes, out and into another ledger: what an export writes beside it must not cost it. */
    @Test
    void visit_ofTheLargestSize_comesBackFromAnExport(@TempDir Path elsewhere) throws IOException {
        String head = "{\"arrivedAt\":\"2026-03-01T08:00:00Z\",\"note\":\"";
        String body = head + "n".repeat((1 << 20) - head.length() - 2) + "\"}";
        take(List.of(unit(1)));
        given().port(server.port()).contentType("application/json").body(body).put("/v1/units/T-1/visits/WO-1").then().statusCode(201);
        byte[] exported = given().port(server.port()).get("/v1/exports").asByteArray();

        try (RunningLedger other = new RunningLedger(elsewhere, new LocalCallers("default"))) {
            assertEquals(0, take(other, List.of(exported).iterator()).path("rejected").asInt());

            assertArrayEquals(exported, given().port(other.port()).get("/v1/exports").asByteArray());
        }
    }

    /** A visit received later than the question is not known to dispatch: one received in the future would hide what was found. */
    @Test
    void receipt_whenAheadOfTheClock_isRejected() throws IOException {
        String visit = "{\"visit\": {\"unit\": \"T-1\", \"id\": \"WO-%s\", \"arrivedAt\": \"2026-03-01T08:00:00Z\", \"receivedAt\": \"%s\"}}";
        Instant now = Instant.now();

        JsonNode answer = take(List.of(unit(1), utf8(visit.formatted("soon", now.plus(Duration.ofMinutes(55)))),
                utf8(visit.formatted("later", now.plus(Duration.ofMinutes(65))))));

        assertEquals(2, answer.path("accepted").asInt());
        assertEquals("/visit/receivedAt", answer.at("/problems/0/problem/faults/0/pointer").asText());
    }

    private static byte[] utf8(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static byte[] unit(int number) {
        return utf8("{\"unit\": {\"id\": \"T-" + number + "\"}}");
    }

    private static byte[] noteOf(int unit, byte[] note) {
        byte[] head = utf8(
                "{\"visit\": {\"unit\": \"T-" + unit + "\", \"id\": \"WO-" + unit + "\", \"arrivedAt\": \"2026-03-01T08:00:00Z\", \"note\": \"");
        byte[] line = new byte[head.length + note.length + 3];
        System.arraycopy(head, 0, line, 0, head.length);
        System.arraycopy(note, 0, line, head.length, note.length);
        System.arraycopy(utf8("\"}}"), 0, line, head.length + note.length, 3);
        return line;
    }

    private int registered() {
        return given().port(server.port()).get("/v1/units?limit=1000").then().statusCode(200).extract().jsonPath().getList("items").size();
    }

    private static List<Long> lines(JsonNode answer) {
        return answer.path("problems").findValues("line").stream().map(JsonNode::asLong).toList();
    }

    private static List<String> types(JsonNode answer) {
        return answer.path("problems").findValues("type").stream().map(type -> type.asText().substring("urn:comeback-ledger:problem:".length()))
                .toList();
    }

    @Test
    void line_ofTenMegabytes_isRejectedByItself() throws IOException {
        JsonNode answer = take(List.of(unit(1), noteOf(1, new byte[10_000_000]), noteOf(1, utf8("good")), unit(2)));

        assertEquals(3, answer.path("accepted").asInt());
        assertEquals(List.of("payload-too-large"), types(answer));
        assertEquals(List.of(2L), lines(answer));
    }

    /** Bytes that are no UTF-8, NUL, control characters, half a surrogate pair, an over-long form, Latin-1. */
    @Test
    void text_inAWrongEncoding_isRejectedByItself() throws IOException {
        List<byte[]> bad = List.of(new byte[]{(byte) 0xff}, new byte[]{(byte) 0xc3, '('}, new byte[]{0}, new byte[]{1}, utf8("\\ud83d"),
                new byte[]{(byte) 0xc0, (byte) 0xaf}, "\u00fcber".getBytes(StandardCharsets.ISO_8859_1),
                new byte[]{(byte) 0xed, (byte) 0xa0, (byte) 0x80});
        List<byte[]> all = Stream.concat(IntStream.rangeClosed(1, bad.size()).mapToObj(HostileImportTest::unit),
                IntStream.rangeClosed(1, bad.size()).mapToObj(i -> noteOf(i, bad.get(i - 1)))).toList();

        JsonNode answer = take(all);

        assertEquals(bad.size(), answer.path("accepted").asInt(), answer::toString);
        assertEquals(bad.size(), answer.path("rejected").asInt());
        assertEquals(IntStream.rangeClosed(bad.size() + 1, 2 * bad.size()).mapToObj(i -> (long) i).toList(), lines(answer));
        assertEquals(bad.size(), take(IntStream.rangeClosed(1, bad.size()).mapToObj(i -> noteOf(i, utf8("good"))).toList()).path("accepted").asInt());
    }

    @Test
    void body_inAnotherEncoding_isRefusedAsAWhole() {
        for (Charset charset : List.of(StandardCharsets.UTF_16, StandardCharsets.UTF_16LE)) {
            byte[] body = ("\ufeff" + new String(unit(1), StandardCharsets.UTF_8) + "\n").getBytes(charset);
            byte[] marked = charset == StandardCharsets.UTF_16 ? (new String(unit(1), StandardCharsets.UTF_8) + "\n").getBytes(charset) : body;
            given().port(server.port()).contentType("application/x-ndjson").body(marked).post("/v1/imports").then().statusCode(415);
        }
        assertEquals(0, registered());
    }

    @Test
    void body_ofUtf8WithAMark_isRead() throws IOException {
        byte[] line = utf8("\ufeff" + new String(unit(1), StandardCharsets.UTF_8));

        assertEquals(1, take(List.of(line)).path("accepted").asInt());
    }

    @Test
    void body_whenCompressed_isRefused() throws IOException {
        java.io.ByteArrayOutputStream packed = new java.io.ByteArrayOutputStream();
        try (GZIPOutputStream out = new GZIPOutputStream(packed)) {
            out.write(unit(1));
        }
        RawHttp.Answer answer = RawHttp.send(server.port(),
                join(utf8("POST /v1/imports HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-ndjson\r\n"
                        + "Content-Encoding: gzip\r\nContent-Length: " + packed.size() + "\r\n\r\n"), packed.toByteArray()),
                false);

        assertEquals(415, answer.status(), answer.body());
        assertEquals(0, registered());
    }

    private static byte[] join(byte[] one, byte[] other) {
        byte[] both = java.util.Arrays.copyOf(one, one.length + other.length);
        System.arraycopy(other, 0, both, one.length, other.length);
        return both;
    }

    @Test
    void line_thatTricksTheParser_isRejectedByItself() throws IOException {
        List<byte[]> bad = Stream.of("{\"unit\": {\"id\": \"T-1\", \"id\": \"T-2\"}}", "{\"unit\": {\"id\": \"T-1\"}, \"unit\": {\"id\": \"T-2\"}}",
                "{\"unit\": " + "[".repeat(5_000) + "]".repeat(5_000) + "}",
                "{\"unit\": {\"id\": \"T-1\", \"tags\": " + "{\"a\":".repeat(40) + "1" + "}".repeat(42),
                "{\"unit\": {\"id\": \"T-1\", \"inServiceAt\": 1e999}}", "{\"unit\": {\"id\": null}}", "[1,2]", "\"text\"", "nul", "{}",
                "{\"unit\": {\"id\": \"T-1\"}} {}",
                "{\"visit\": {\"unit\": \"T-0\", \"id\": \"WO\", \"arrivedAt\": \"2026-03-01T08:00:00Z\", \"revision\": 99999999999999999999}}",
                "{\"baseline\": {\"version\": 1, \"learnedAt\": \"2026-03-01T08:00:00Z\", \"content\": \"not base64!\"}}",
                "{\"baseline\": {\"version\": 1, \"learnedAt\": \"2026-03-01T08:00:00Z\", \"content\": \"AAAA\"}}",
                "{\"policy\": {\"version\": 1, \"recordedAt\": \"2026-03-01T08:00:00Z\", \"document\": {\"evidenceMaxAgeDays\": -1}}}")
                .map(HostileImportTest::utf8).toList();

        JsonNode answer = take(Stream.of(List.of(unit(0)), bad, List.of(unit(9))).flatMap(List::stream).toList());

        assertEquals(2, answer.path("accepted").asInt(), answer::toPrettyString);
        assertEquals(IntStream.rangeClosed(2, bad.size() + 1).mapToObj(i -> (long) i).toList(), lines(answer));
        given().port(server.port()).get("/v1/units/T-0/readiness").then().statusCode(200);
    }

    /** A line of many faults buys no large answer, and a million bad lines neither. */
    @Test
    void problems_areToldWithinBounds() throws IOException {
        byte[] manyFaults = utf8(
                "{\"unit\": {" + IntStream.range(0, 20_000).mapToObj(i -> "\"x" + i + "\": 1").reduce((a, b) -> a + "," + b).orElseThrow() + "}}");
        int bad = 1_000_000;
        byte[] thousand = utf8("x\n".repeat(1000));
        byte[] good = join(unit(1), new byte[]{'\n'});
        Stream<byte[]> pieces = Stream
                .of(Stream.of(join(manyFaults, new byte[]{'\n'})), Stream.generate(() -> thousand).limit(bad / 1000), Stream.of(good))
                .flatMap(piece -> piece);

        JsonNode answer = take(pieces.iterator());

        assertEquals(1, answer.path("accepted").asInt());
        assertEquals(bad + 1, answer.path("rejected").asInt());
        assertEquals(LISTED, answer.path("problems").size());
        assertEquals(1, answer.path("problems").get(0).path("line").asInt());
        assertEquals(LISTED, answer.path("problems").get(LISTED - 1).path("line").asInt());
        assertEquals(10, answer.path("problems").get(0).path("problem").path("faults").size());
    }

    /** The lines before the cut are durable; the half line is not taken for a whole one. */
    @Test
    void connection_whenCutInALine_keepsTheLinesBefore() throws IOException {
        try (Socket socket = new Socket("127.0.0.1", server.port())) {
            StringBuilder body = new StringBuilder();
            IntStream.range(0, 700).forEach(i -> body.append(new String(unit(i), StandardCharsets.UTF_8)).append('\n'));
            body.append("{\"unit\": {\"id\": \"T-9999\"");
            socket.getOutputStream().write(
                    utf8("POST /v1/imports HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-ndjson\r\nContent-Length: 10000000\r\n\r\n"
                            + body));
            socket.getOutputStream().flush();
            socket.setSoLinger(true, 0);
        }

        Awaitility.await().atMost(Duration.ofSeconds(30)).untilAsserted(() -> assertEquals(700, registered()));
        given().port(server.port()).get("/v1/units/T-9999").then().statusCode(404);
    }

    /** Line by line with pauses, as from a slow link. */
    @Test
    void sender_whenSlow_isHeardOut() throws Exception {
        try (Socket socket = new Socket("127.0.0.1", server.port())) {
            OutputStream out = socket.getOutputStream();
            out.write(
                    utf8("POST /v1/imports HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-ndjson\r\nTransfer-Encoding: chunked\r\n\r\n"));
            for (int i = 0; i < 5; i++) {
                byte[] line = join(unit(i), new byte[]{'\n'});
                out.write(utf8(Integer.toHexString(line.length) + "\r\n"));
                out.write(line, 0, 7);
                out.flush();
                Thread.sleep(300);
                out.write(line, 7, line.length - 7);
                out.write(utf8("\r\n"));
                out.flush();
            }
            out.write(utf8("0\r\n\r\n"));
            out.flush();
            byte[] head = socket.getInputStream().readNBytes(15);

            assertEquals("HTTP/1.1 200 OK", new String(head, StandardCharsets.ISO_8859_1));
        }
        assertEquals(5, registered());
    }

    /** Several at once over the same lines: each line is taken once. */
    @Test
    void imports_atTheSameTime_takeEachLineOnce() throws Exception {
        List<byte[]> lines = Stream.concat(IntStream.range(0, 200).mapToObj(HostileImportTest::unit),
                IntStream.range(0, 200).mapToObj(i -> noteOf(i, utf8("good")))).toList();
        try (var threads = java.util.concurrent.Executors.newFixedThreadPool(3)) {
            List<java.util.concurrent.Future<JsonNode>> answers = IntStream.range(0, 3).mapToObj(_ -> threads.submit(() -> take(lines))).toList();
            int accepted = 0;
            for (var answer : answers) {
                assertEquals(0, answer.get().path("rejected").asInt(), () -> "rejected");
                accepted += answer.get().path("accepted").asInt();
            }
            assertEquals(400, accepted);
        }
        given().port(server.port()).get("/v1/units/T-199/visits/WO-199").then().statusCode(200).body("revision", equalTo(1));
    }
}
