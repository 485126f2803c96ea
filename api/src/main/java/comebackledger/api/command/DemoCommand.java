package comebackledger.api.command;

import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.api.RunningService;
import comebackledger.api.demo.DemoFleet;
import comebackledger.api.setting.Settings;
import comebackledger.api.transfer.LineImport;
import comebackledger.ledger.Caller;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Serves the invented fleet. */
@Command(name = "demo", mixinStandardHelpOptions = true, description = "Starts the service with an invented fleet, to try.")
final class DemoCommand implements Callable<Integer> {
    @Option(names = "--port", description = "port to listen on, 0 for a free one (server.port)")
    private @Nullable String port;

    @Option(names = "--data", paramLabel = "FOLDER", description = "folder of the database; without it a temporary one, deleted at the end")
    private @Nullable Path data;

    @Override
    public Integer call() throws IOException, InterruptedException {
        long start = System.nanoTime();
        Path folder = data != null ? data : temporary();
        Map<String, String> commandLine = new HashMap<>(Map.of(Settings.Key.DATA.key(), folder.toString(), Settings.Key.HOST.key(), "127.0.0.1"));
        if (port != null) {
            commandLine.put(Settings.Key.PORT.key(), port);
        }
        RunningService service = RunningService.start(new Settings(commandLine, Optional.empty(), System.getenv()));
        System.out.println(service.startMessage());
        long lines = load(service);
        System.out.printf(Locale.ROOT, "%nAn invented fleet was loaded, %d units and visits, %.1f s after the start. Try:%n%n%s%n", lines,
                (System.nanoTime() - start) / 1e9, tries(service.address()));
        service.awaitEnd();
        return 0;
    }

    /** Unit by unit, so that the first can be asked about while the last are still loading. */
    static long load(RunningService service) throws IOException {
        List<ObjectNode> fleet = DemoFleet.lines(Instant.now());
        LineImport taken = new LineImport(service.ledger(), new Caller(service.fleet(), "demo"), true);
        try (ProgressLine progress = new ProgressLine("loaded")) {
            StringBuilder unit = new StringBuilder();
            for (ObjectNode line : fleet) {
                if (line.has("unit") && !unit.isEmpty()) {
                    take(taken, unit);
                    progress.show(taken.tally().accepted() + " of " + fleet.size() + " units and visits");
                }
                unit.append(line).append('\n');
            }
            take(taken, unit);
        }
        // A folder that was used before holds the fleet of another day: what it has already is left as it is.
        return taken.tally().accepted();
    }

    private static void take(LineImport taken, StringBuilder lines) throws IOException {
        taken.takeLines(new ByteArrayInputStream(lines.toString().getBytes(StandardCharsets.UTF_8)), _ -> {});
        lines.setLength(0);
    }

    static String tries(String address) {
        return Stream.of(
                "# May this truck go out? Its brake module did not answer.",
                "curl -s " + address + "/v1/units/D-104/readiness",
                "# Which fault keeps coming back after which repair?",
                "curl -s " + address + "/v1/units/D-101/trails",
                "# What explains 121 ohm on this network, and what to measure next?",
                "curl -s -H 'Content-Type: application/json' " + address + "/v1/calculations/bus-check -d '{\"power\": \"off\", \"highLow\": "
                        + "{\"value\": 121, \"unit\": \"ohm\"}}'")
                .collect(Collectors.joining(System.lineSeparator()));
    }

    static Path temporary() throws IOException {
        Path folder = Files.createTempDirectory("comeback-ledger-demo");
        Runtime.getRuntime().addShutdownHook(new Thread(() -> delete(folder), "delete"));
        return folder;
    }

    private static void delete(Path folder) {
        try (Stream<Path> all = Files.walk(folder)) {
            for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
                Files.deleteIfExists(path);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
