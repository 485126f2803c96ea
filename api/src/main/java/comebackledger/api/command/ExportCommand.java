package comebackledger.api.command;

import comebackledger.api.setting.OpenLedger;
import comebackledger.api.setting.Settings;
import comebackledger.api.transfer.LineExport;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Writes every revision of a fleet to a file, as {@code GET /v1/exports} does. */
@Command(name = "export", mixinStandardHelpOptions = true, description = "Writes every unit, visit and policy version to a file of lines of JSON, or the visits to a table.")
final class ExportCommand implements Callable<Integer> {
    @Mixin
    private final SettingsOptions options = new SettingsOptions();

    @Option(names = "--table", description = "the visits as they are now, as a table of work orders (CSV); understood by itself where FILE ends in .csv")
    private boolean table;

    @Parameters(paramLabel = "FILE", description = "file to write; an existing one is replaced; - for standard output")
    private @Nullable Path file;

    @Override
    public Integer call() {
        Settings settings = options.with(Map.of());
        try (OpenLedger open = OpenLedger.existing(settings);
                ProgressLine progress = new ProgressLine("exported");
                OutputStream out = new BufferedOutputStream(open())) {
            LineExport lines = new LineExport(out, written -> progress.show(written + " lines"));
            if (table || String.valueOf(file).toLowerCase(Locale.ROOT).endsWith(".csv")) {
                lines.giveTable(open.ledger(), settings.fleet());
            } else {
                lines.giveLines(open.ledger(), settings.fleet());
            }
            progress.show(lines.lines() + " lines");
        } catch (IOException | UncheckedIOException e) {
            throw new Settings.Refused("The file " + file + " cannot be written to its end.");
        }
        return 0;
    }

    private OutputStream open() throws IOException {
        Path path = java.util.Objects.requireNonNull(file, "a parameter that is required");
        return path.toString().equals("-") ? System.out : Files.newOutputStream(path);
    }
}
