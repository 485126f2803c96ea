package comebackledger.api;

import comebackledger.ledger.Caller;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.stream.StreamSupport;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Takes the lines of a file, as {@code POST /v1/imports} does. */
@Command(name = "import", mixinStandardHelpOptions = true, description = "Takes units and visits from a file of lines of JSON.")
final class ImportCommand implements Callable<Integer> {
    private static final int SHOWN_AT_MOST = 20;

    @Mixin
    private final SettingsOptions options = new SettingsOptions();

    @Parameters(paramLabel = "FILE", description = "lines of {\"unit\": {..}} and {\"visit\": {..}}; - for standard input")
    private @Nullable Path file;

    @Override
    public Integer call() {
        Settings settings = options.with(Map.of());
        try (OpenLedger open = OpenLedger.with(settings); ProgressLine progress = new ProgressLine("imported"); InputStream in = open()) {
            LineImport lines = new LineImport(open.ledger(), new Caller(settings.text(Settings.Key.FLEET), "import"), true);
            lines.takeAll(in, read -> progress.show(read + " lines"));
            progress.show(lines.accepted() + " lines accepted, " + lines.unchanged() + " unchanged, " + lines.rejected() + " rejected");
            StreamSupport.stream(lines.problems().spliterator(), false).limit(SHOWN_AT_MOST).forEach(
                    problem -> System.err.println("line " + problem.path("line").asLong() + ": " + problem.at("/problem/detail").asText()));
            return lines.rejected() == 0 ? 0 : 1;
        } catch (IOException e) {
            throw new Settings.Refused("The file " + file + " cannot be read to its end.");
        }
    }

    private InputStream open() throws IOException {
        Path path = java.util.Objects.requireNonNull(file, "a parameter that is required");
        return path.toString().equals("-") ? System.in : Files.newInputStream(path);
    }
}
