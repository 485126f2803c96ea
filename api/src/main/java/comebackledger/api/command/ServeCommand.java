package comebackledger.api.command;

import comebackledger.api.RunningService;
import comebackledger.api.setting.Settings;
import java.util.HashMap;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Serves until the process is ended. */
@Command(name = "serve", mixinStandardHelpOptions = true, description = "Starts the service.")
final class ServeCommand implements Callable<Integer> {
    @Mixin
    private final SettingsOptions options = new SettingsOptions();

    @Option(names = "--port", description = "port to listen on, 0 for a free one (server.port)")
    private @Nullable String port;

    @Option(names = "--host", description = "address to listen on (server.host)")
    private @Nullable String host;

    /** Called by the parser: the help ends with every setting. */
    @Spec
    void tellSettings(CommandSpec spec) {
        spec.usageMessage().footer(Stream.concat(Stream.of("", "Settings, by system property, environment or the file of --config:"),
                Stream.of(Settings.Key.values()).map(ServeCommand::line)).toArray(String[]::new));
    }

    private static String line(Settings.Key key) {
        return "  " + key.key() + (key.byDefault().isEmpty() ? "" : " (" + key.byDefault() + ")") + ": " + key.meaning();
    }

    @Override
    public Integer call() throws InterruptedException {
        Map<String, String> commandLine = new HashMap<>();
        if (port != null) {
            commandLine.put(Settings.Key.PORT.key(), port);
        }
        if (host != null) {
            commandLine.put(Settings.Key.HOST.key(), host);
        }
        RunningService service = RunningService.start(options.with(commandLine));
        System.out.println(service.startMessage());
        service.awaitEnd();
        return 0;
    }
}
