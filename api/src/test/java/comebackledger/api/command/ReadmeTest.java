package comebackledger.api.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.api.LedgerFeature;
import comebackledger.api.LedgerService;
import comebackledger.api.RunningService;
import comebackledger.api.caller.Role;
import comebackledger.api.setting.Settings;
import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Listener;
import comebackledger.ledger.Outcome;
import comebackledger.ledger.RecordedVisit;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import io.helidon.http.HeaderNames;
import io.helidon.webserver.WebServer;
import io.helidon.webserver.http.ServerRequest;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import javax.sql.DataSource;
import org.h2.jdbcx.JdbcDataSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the README shows is true: its calls are answered, its table is taken, its Java compiles and runs, its settings are the settings. */
class ReadmeTest {
    private static final Path HERE = Path.of("src/test/java/comebackledger/api/command/ReadmeTest.java");
    private static final Pattern WORD = Pattern.compile("'([^']*)'|(\\S+)");

    private static final byte[] UNIT = "{\"build\": {\"networks\": [{\"name\": \"j1939-1\", \"safety\": true}]}}".getBytes(StandardCharsets.UTF_8);

    @TempDir
    Path folder;

    private static DataSource inMemory(String name) {
        JdbcDataSource dataSource = new JdbcDataSource();
        dataSource.setURL("jdbc:h2:mem:" + name + ";DB_CLOSE_DELAY=-1");
        return dataSource;
    }

    private static String readme() throws IOException {
        return Files.readString(Path.of("../README.md"));
    }

    /** What is set apart by four spaces, line by line, a line that ends in a backslash joined with the next. */
    private static List<String> shown() throws IOException {
        return Arrays.stream(readme().replace("\\\n", " ").split("\n")).filter(line -> line.startsWith("    ")).map(String::strip).toList();
    }

    private static HttpRequest request(String curl, String address) {
        List<String> words = new ArrayList<>();
        for (Matcher word = WORD.matcher(curl); word.find();) {
            words.add(word.group(1) != null ? word.group(1) : word.group(2));
        }
        HttpRequest.Builder request = HttpRequest.newBuilder();
        String method = "GET";
        String body = "";
        for (int i = 1; i < words.size(); i++) {
            switch (words.get(i)) {
                case "-s" -> {}
                case "-X" -> method = words.get(++i);
                case "-H" -> request.header(words.get(i + 1).split(": ", 2)[0], words.get(++i).split(": ", 2)[1]);
                case "-d" -> {
                    body = words.get(++i);
                    method = method.equals("GET") ? "POST" : method;
                }
                default -> request.uri(URI.create(words.get(i).replace("http://127.0.0.1:8080", address)));
            }
        }
        return request.method(method, HttpRequest.BodyPublishers.ofString(body)).build();
    }

    @Test
    void calls_areAnswered_andTheTableIsTaken() throws Exception {
        List<String> curls = shown().stream().filter(line -> line.startsWith("curl ")).toList();
        String table = shown().stream().filter(line -> line.startsWith("unit,visit,") || line.startsWith("T-104,"))
                .collect(Collectors.joining("\n"));
        Settings settings = new Settings(Map.of("ledger.data", folder.toString(), "server.port", "0"), Optional.empty(), Map.of());
        try (RunningService service = RunningService.start(settings); HttpClient client = HttpClient.newHttpClient()) {
            DemoCommand.load(service);
            for (String curl : curls) {
                int status = client.send(request(curl, service.address()), BodyHandlers.ofString()).statusCode();
                assertTrue(status == 200 || status == 201, curl + " was answered with " + status);
            }
            String taken = client.send(HttpRequest.newBuilder(URI.create(service.address() + "/v1/imports")).header("Content-Type", "text/csv")
                    .POST(HttpRequest.BodyPublishers.ofString(table.replace("WO-1001", "WO-1002"))).build(), BodyHandlers.ofString()).body();
            assertTrue(taken.contains("\"accepted\":2") && taken.contains("\"rejected\":0"), taken);
        }
        assertEquals(5, curls.size());
    }

    @Test
    void pathsNamed_areInTheContract() throws IOException {
        List<String> known = Files.readString(Path.of("../openapi/src/main/resources/META-INF/openapi.yaml")).lines()
                .filter(line -> line.startsWith("  /v1/")).map(line -> line.strip().replace(":", "")).toList();
        List<String> named = Pattern.compile("`(?:GET|PUT|POST) (/v1/[^`?]*)").matcher(readme()).results().map(found -> found.group(1)).toList();

        named.forEach(path -> assertTrue(known.contains(path), path));
        assertTrue(named.size() >= 9, named.toString());
    }

    @Test
    void demo_printsTheCallsShown() throws IOException {
        List<String> shown = shown();

        DemoCommand.tries("http://127.0.0.1:8080").lines().filter(line -> line.startsWith("curl "))
                .forEach(call -> assertTrue(shown.contains(call), call));
    }

    @Test
    void settings_areAllTold() throws IOException {
        String readme = readme();
        for (Settings.Key key : Settings.Key.values()) {
            assertTrue(readme.lines().anyMatch(line -> line.startsWith("| ") && line.contains("`" + key.key() + "`")
                    && (key.byDefault().isEmpty() || line.contains("`" + key.byDefault() + "`"))), key.key());
        }
    }

    @Test
    void java_isWhatRunsBelow() throws IOException {
        List<String> here = Files.readString(HERE).lines().map(String::strip).toList();
        List<String> java = shown().stream().filter(line -> line.endsWith(";")).toList();

        java.forEach(line -> assertTrue(here.contains(line), line));
        assertTrue(java.size() >= 6, java.toString());
    }

    @Test
    void embedded() {
        DataSource dataSource = inMemory("embedded");
        Listener listener = (_, _, _, _) -> {};
        byte[] unit = UNIT;
        byte[] visit = "{\"arrivedAt\": \"2026-03-01T08:00:00Z\"}".getBytes(StandardCharsets.UTF_8);

        Ledger ledger = new Ledger(JdbcStore.over(dataSource), new LedgerCodec(), InstantSource.system(), listener);
        Caller caller = new Caller("north", "shop system");
        ledger.putUnit(caller, UnitMapping.toCore("T-104", unit));
        Outcome<RecordedVisit> became = ledger.putVisit(caller, "T-104", VisitMapping.toCore("WO-1001", visit, ledger.now()), OptionalInt.empty());
        Optional<ReadinessAnswer> answer = ledger.dispatch().readiness("north", new DispatchDesk.Question("T-104", Trip.STANDARD), Optional.empty());

        assertInstanceOf(Outcome.Created.class, became);
        assertEquals("T-104", answer.orElseThrow().unit());
    }

    private static comebackledger.api.caller.Caller whoCalls(ServerRequest request) {
        return new comebackledger.api.caller.Caller(request.headers().get(HeaderNames.create("X-User")).get(), "north", Set.of(Role.DISPATCHER));
    }

    @Test
    void mounted() throws Exception {
        int port = 0;
        Ledger ledger = new Ledger(JdbcStore.over(inMemory("mounted")), new LedgerCodec(), InstantSource.system(), (_, _, _, _) -> {});
        ledger.putUnit(new Caller("north", "shop system"), UnitMapping.toCore("T-104", UNIT));

        LedgerService service = new LedgerService(ledger, request -> whoCalls(request));
        WebServer server = WebServer.builder().port(port).routing(routing -> routing.addFeature(new LedgerFeature(service))).build().start();

        try (HttpClient client = HttpClient.newHttpClient()) {
            URI asked = URI.create("http://127.0.0.1:" + server.port() + "/v1/units/T-104/readiness");
            assertEquals(200, client.send(HttpRequest.newBuilder(asked).header("X-User", "pat").build(), BodyHandlers.ofString()).statusCode());
        } finally {
            server.stop();
        }
    }
}
