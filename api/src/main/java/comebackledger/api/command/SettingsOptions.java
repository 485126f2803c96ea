package comebackledger.api.command;

import comebackledger.api.setting.Settings;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** The options that every command shares; each stands above the setting of the same meaning. */
final class SettingsOptions {
    @Option(names = "--data", paramLabel = "FOLDER", description = "folder of the embedded database (ledger.data)")
    private @Nullable String data;

    @Option(names = "--config", paramLabel = "FILE", description = "settings as a properties file")
    private @Nullable Path config;

    Settings with(Map<String, String> more) {
        Map<String, String> commandLine = new HashMap<>(more);
        if (data != null) {
            commandLine.put(Settings.Key.DATA.key(), data);
        }
        return new Settings(commandLine, Optional.ofNullable(config), System.getenv());
    }
}
