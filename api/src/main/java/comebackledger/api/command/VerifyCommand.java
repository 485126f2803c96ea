package comebackledger.api.command;

import comebackledger.api.setting.OpenLedger;
import comebackledger.api.setting.Settings;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** Compares what is kept with what the evidence gives. */
@Command(name = "verify", mixinStandardHelpOptions = true, description = "Recomputes everything from evidence and compares it with what is stored.")
final class VerifyCommand implements Callable<Integer> {
    private static final int SHOWN_AT_MOST = 100;

    @Mixin
    private final SettingsOptions options = new SettingsOptions();

    @Override
    public Integer call() {
        Settings settings = options.with(Map.of());
        List<String> differences;
        try (OpenLedger open = OpenLedger.existing(settings); ProgressLine progress = new ProgressLine("verified")) {
            differences = open.ledger().verify((fleet, units) -> progress.show(units + " units of " + fleet));
        }
        differences.stream().limit(SHOWN_AT_MOST).forEach(System.out::println);
        System.out.println(differences.isEmpty() ? "All that is stored agrees with the evidence." : differences.size() + " differences.");
        return differences.isEmpty() ? 0 : 1;
    }
}
