package comebackledger.api.command;

import comebackledger.api.setting.OpenLedger;
import comebackledger.api.setting.Settings;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** Makes everything derived again from evidence. */
@Command(name = "rebuild", mixinStandardHelpOptions = true, description = "Judges and folds every unit again, from evidence alone.")
final class RebuildCommand implements Callable<Integer> {
    @Mixin
    private final SettingsOptions options = new SettingsOptions();

    @Override
    public Integer call() {
        Settings settings = options.with(Map.of());
        try (OpenLedger open = OpenLedger.existing(settings); ProgressLine progress = new ProgressLine("rebuilt")) {
            open.ledger().rebuild((fleet, units) -> progress.show(units + " units of " + fleet));
        }
        return 0;
    }
}
