package comebackledger.api.command;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.api.setting.OpenLedger;
import comebackledger.api.setting.Settings;
import comebackledger.api.transfer.ImportTally;
import comebackledger.api.transfer.LineImport;
import comebackledger.ledger.Caller;
import comebackledger.openapi.Problem;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.stream.StreamSupport;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Takes the lines of a file, as {@code POST /v1/imports} does. */
@Command(name = "import", mixinStandardHelpOptions = true, description = "Takes units and visits from a file of lines of JSON.")
final class ImportCommand implements Callable<Integer> {
    private static final int SHOWN_AT_MOST = 20;

    @Mixin
    private final SettingsOptions options = new SettingsOptions();

    @Option(names = "--table", description = "a table of work orders (CSV); understood by itself where FILE ends in .csv")
    private boolean table;

    @Parameters(paramLabel = "FILE", description = "lines of {\"unit\": {..}} and {\"visit\": {..}}, or a table of work orders in FILE.csv; - for standard input")
    private @Nullable Path file;

    @Override
    public Integer call() {
        Settings settings = options.with(Map.of());
        try (OpenLedger open = OpenLedger.with(settings); ProgressLine progress = new ProgressLine("imported"); InputStream in = open()) {
            LineImport lines = new LineImport(open.ledger(), new Caller(settings.fleet(), "import"), true);
            ImportTally tally = lines.tally();
            if (table || String.valueOf(file).toLowerCase(Locale.ROOT).endsWith(".csv")) {
                lines.takeTable(in, read -> progress.show(read + " lines"));
            } else {
                lines.takeLines(in, read -> progress.show(read + " lines"));
            }
            progress.show(tally.accepted() + " lines accepted, " + tally.unchanged() + " unchanged, " + tally.rejected() + " rejected");
            StreamSupport.stream(tally.problems().spliterator(), false).limit(SHOWN_AT_MOST).forEach(ImportCommand::tell);
            if (tally.rejected() > SHOWN_AT_MOST) {
                System.err.println("and " + (tally.rejected() - SHOWN_AT_MOST) + " lines more");
            }
            return tally.rejected() == 0 ? 0 : 1;
        } catch (Problem problem) {
            problem.faults().forEach(fault -> System.err.println(fault.pointer() + ": " + fault.detail()));
            throw new Settings.Refused("Nothing was imported. " + problem.detail());
        } catch (IOException e) {
            throw new Settings.Refused("The file " + file + " cannot be read to its end.");
        }
    }

    /** The faults of a line where they tell more than its detail. */
    private static void tell(JsonNode line) {
        JsonNode faults = line.at("/problem/faults");
        String head = "line " + line.path("line").asLong() + ": ";
        if (faults.isEmpty()) {
            System.err.println(head + line.at("/problem/detail").asText());
        }
        faults.forEach(fault -> System.err.println(head + fault.path("pointer").asText() + ": " + fault.path("detail").asText()));
    }

    private InputStream open() throws IOException {
        Path path = java.util.Objects.requireNonNull(file, "a parameter that is required");
        return path.toString().equals("-") ? System.in : Files.newInputStream(path);
    }
}
