package comebackledger.api.setting;

import comebackledger.ledger.Store;
import comebackledger.ledger.StoreUnavailableException;
import comebackledger.storage.Durability;
import comebackledger.storage.JdbcStore;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;

/** The store that the settings name. */
final class StoreOf {
    private static final Map<String, Durability> DURABILITIES = Map.of("process-kill", Durability.PROCESS_KILL, "power-cut", Durability.POWER_CUT);

    private StoreOf() {}

    static void requireExisting(Settings settings) {
        Path folder = Path.of(settings.text(Settings.Key.DATA));
        if (settings.optional(Settings.Key.DATABASE_URL).isEmpty() && !JdbcStore.isEmbeddedIn(folder)) {
            throw new Settings.Refused("No ledger is in the folder " + folder + ". Name the folder of `serve` or `import` with --data.");
        }
    }

    /** @throws Settings.Refused if it cannot be opened */
    static Store settings(Settings settings) {
        Optional<String> url = settings.optional(Settings.Key.DATABASE_URL);
        try {
            return url.isPresent()
                    ? JdbcStore.postgres(url.get(), settings.text(Settings.Key.DATABASE_USER), settings.text(Settings.Key.DATABASE_PASSWORD))
                    : JdbcStore.embedded(Path.of(settings.text(Settings.Key.DATA)), settings.word(Settings.Key.DURABILITY, DURABILITIES));
        } catch (StoreUnavailableException | IllegalArgumentException e) {
            throw new Settings.Refused("The store cannot be opened: " + e.getMessage());
        }
    }
}
