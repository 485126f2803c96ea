package comebackledger.api.command;

import comebackledger.api.setting.Settings;
import java.io.IOException;
import java.io.InputStream;
import java.util.concurrent.Callable;
import java.util.logging.LogManager;
import picocli.CommandLine;
import picocli.CommandLine.Command;

/** The command line. */
@Command(name = "comeback-ledger", mixinStandardHelpOptions = true, version = "1.0.0", description = "Remembers what every shop visit measured, and says which repairs hold.", subcommands = {
        ServeCommand.class, DemoCommand.class, ImportCommand.class, ExportCommand.class, RebuildCommand.class, VerifyCommand.class,
        WarmUpCommand.class})
public final class Main implements Callable<Integer> {
    @CommandLine.Spec
    private CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    /** Runs one command and ends the process with its code: 0 done, 1 a fault or a difference, 2 arguments or settings that cannot be used. */
    public static void main(String[] arguments) {
        if (Boolean.getBoolean("exit.with.parent")) {
            // A build that is ended does not end what it started.
            ProcessHandle.current().parent().ifPresent(parent -> parent.onExit().thenRun(() -> System.exit(0)));
        }
        configureLog();
        System.exit(run(arguments));
    }

    /** Quiet unless the person who starts us brings a configuration of their own. */
    private static void configureLog() {
        if (System.getProperty("java.util.logging.config.file") == null) {
            try (InputStream in = Main.class.getResourceAsStream("/logging.properties")) {
                if (in != null) {
                    LogManager.getLogManager().readConfiguration(in);
                }
            } catch (IOException e) {
                System.err.println("The log keeps its default form: logging.properties cannot be read.");
            }
        }
    }

    /** Runs one command in this process; the codes of {@link #main}. */
    public static int run(String... arguments) {
        return new CommandLine(new Main()).setCaseInsensitiveEnumValuesAllowed(true).setExecutionExceptionHandler((e, line, _) -> {
            if (e instanceof Settings.Refused) {
                line.getErr().println(e.getMessage());
                return 2;
            }
            line.getErr().println("This command failed: " + e.getMessage());
            System.getLogger(Main.class.getName()).log(System.Logger.Level.ERROR, "the command failed", e);
            return 1;
        }).execute(arguments);
    }

    @Override
    public Integer call() {
        if (spec != null) {
            spec.commandLine().usage(System.err);
        }
        return 2;
    }
}
