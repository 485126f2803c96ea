package comebackledger.api.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.api.RunningService;
import comebackledger.api.demo.DemoFleet;
import comebackledger.api.setting.Settings;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CommandLineTest {
    @TempDir
    Path folder;

    private record Ended(int code, String out, String err) {}

    private static synchronized Ended run(String... arguments) {
        PrintStream out = System.out;
        PrintStream err = System.err;
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        ByteArrayOutputStream complained = new ByteArrayOutputStream();
        System.setOut(new PrintStream(said, true, StandardCharsets.UTF_8));
        System.setErr(new PrintStream(complained, true, StandardCharsets.UTF_8));
        try {
            int code = Main.run(arguments);
            return new Ended(code, said.toString(StandardCharsets.UTF_8), complained.toString(StandardCharsets.UTF_8));
        } finally {
            System.setOut(out);
            System.setErr(err);
        }
    }

    private Path demoLines() throws IOException {
        return Files.writeString(folder.resolve("demo.ndjson"),
                DemoFleet.lines(Instant.now()).stream().limit(60).map(Object::toString).collect(Collectors.joining("\n")));
    }

    @Test
    void importExportVerifyRebuild_keepTheSameBytes() throws IOException {
        String one = folder.resolve("one").toString();
        String other = folder.resolve("other").toString();
        String file = demoLines().toString();
        String first = folder.resolve("first.ndjson").toString();
        String second = folder.resolve("second.ndjson").toString();

        Ended imported = run("import", "--data", one, file);
        assertEquals(0, imported.code(), imported.err());
        assertTrue(imported.err().contains("60 lines accepted, 0 unchanged, 0 rejected"), imported.err());
        assertEquals(0, run("export", "--data", one, first).code());
        assertEquals(0, run("import", "--data", other, first).code());
        assertEquals(0, run("export", "--data", other, second).code());
        assertEquals(-1, Files.mismatch(Path.of(first), Path.of(second)));
        assertEquals(0, run("verify", "--data", other).code());
        assertEquals(0, run("rebuild", "--data", other).code());
        Ended verified = run("verify", "--data", other);
        assertEquals("All that is stored agrees with the evidence.", verified.out().strip());
    }

    @Test
    void import_withABadLine_saysWhichAndEndsWithOne() throws IOException {
        Path file = Files.writeString(folder.resolve("bad.ndjson"), "{\"unit\":{\"id\":\"T-1\"}}\n{\"unit\":{}}\n");

        Ended ended = run("import", "--data", folder.resolve("data").toString(), file.toString());

        assertEquals(1, ended.code());
        assertTrue(ended.err().contains("line 2: /unit/id: `id` is missing"), ended.err());
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "nonsense", "serve --port banana", "serve --port 70000", "serve --host 0.0.0.0", "serve --config /no/such/file",
            "import", "import /no/such/file"})
    void command_thatCannotBeUsed_saysWhyAndEndsWithTwo(String line) {
        Ended ended = run(line.isEmpty() ? new String[0] : (line + (line.startsWith("import /") ? " --data " + folder : "")).split(" "));

        assertEquals(2, ended.code(), ended.toString());
        assertTrue(ended.err().strip().length() > 20 && !ended.err().contains("\tat "), ended.err());
    }

    @Test
    void serve_whereThePortIsTaken_saysSoAndLetsTheLedgerGo() throws IOException {
        String data = folder.resolve("data").toString();
        try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            Ended ended = run("serve", "--data", data, "--host", "127.0.0.1", "--port", "" + taken.getLocalPort());

            assertEquals(2, ended.code(), ended.toString());
            assertTrue(ended.err().contains(":" + taken.getLocalPort() + " cannot be listened on"), ended.err());
        }
        assertEquals(0, run("verify", "--data", data).code());
    }

    /** A mistyped folder is not a ledger that is in order. */
    @ParameterizedTest
    @ValueSource(strings = {"verify", "rebuild", "export"})
    void command_whereNoLedgerIs_saysSoAndBeginsNone(String command) {
        Path nowhere = folder.resolve("nowhere");
        String out = command.equals("export") ? folder.resolve("out.ndjson").toString() : "";

        Ended ended = run((command + " --data " + nowhere + " " + out).strip().split(" "));

        assertEquals(2, ended.code(), ended.toString());
        assertTrue(ended.err().contains("No ledger is in the folder " + nowhere), ended.err());
        assertTrue(Files.notExists(nowhere) && Files.notExists(folder.resolve("out.ndjson")), "nothing is made");
    }

    @Test
    void serveHelp_listsEverySetting() {
        String help = run("serve", "--help").out().replaceAll("\\s+", " ");

        for (Settings.Key key : Settings.Key.values()) {
            assertTrue(help.contains(" " + key.key() + (key.byDefault().isEmpty() ? ": " : " (" + key.byDefault() + "): ") + key.meaning()), help);
        }
    }

    /** The whole service as one process runs it, with the demo's first units. */
    @Test
    void service_withTheDemo_answersItsStories() throws Exception {
        Settings settings = new Settings(Map.of("ledger.data", folder.resolve("demo").toString(), "server.port", "0"), Optional.empty(), Map.of());
        try (RunningService service = RunningService.start(settings); HttpClient client = HttpClient.newHttpClient()) {
            assertTrue(DemoCommand.load(service) > 300);

            assertContains("safety-module-silent", get(client, service, "/v1/units/D-104/readiness"));
            assertContains("in-shop", get(client, service, "/v1/units/D-106/readiness"));
            assertContains("reported-defect-uncertified", get(client, service, "/v1/units/D-107/readiness"));
            assertContains("evidence-too-old", get(client, service, "/v1/units/D-108/readiness"));
            assertContains("never-seen", get(client, service, "/v1/units/D-136/readiness"));
            String returning = get(client, service, "/v1/units/D-101/trails");
            assertTrue(returning.contains("network.j1939-1.terminator-b") && returning.contains("\"comeback\":true"), returning);
            assertContains("no-fault-found", get(client, service, "/v1/units/D-103/standing"));
            assertContains("\"moving\":true", get(client, service, "/v1/units/D-105/trails"));
            assertContains("UP", get(client, service, "/health/ready"));
        }
    }

    private static void assertContains(String part, String answer) {
        assertTrue(answer.contains(part), answer);
    }

    private static String get(HttpClient client, RunningService service, String path) throws Exception {
        return client.send(HttpRequest.newBuilder(URI.create(service.address() + path)).build(), HttpResponse.BodyHandlers.ofString()).body();
    }
}
