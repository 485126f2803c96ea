package comebackledger.api.command;

import comebackledger.api.RunningService;
import comebackledger.api.setting.Settings;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;

/**
 * Starts the service on the invented fleet, asks it each kind of question once, and ends: run with {@code -XX:AOTCacheOutput=FILE}, everything that a start and
 * a first answer load stands in the file, and a later start with {@code -XX:AOTCache=FILE} takes it from there.
 */
@Command(name = "warm-up", mixinStandardHelpOptions = true, description = "Starts on a free port with the invented fleet, answers each kind of call once, and ends; makes a class cache when Java is asked for one.")
final class WarmUpCommand implements Callable<Integer> {
    private static final List<String> ASKED = List.of("/health/ready", "/openapi", "/v1/units/D-104/readiness?distanceKm=600",
            "/v1/units/D-101/trails",
            "/v1/units/D-101/standing", "/v1/units/D-101/briefing", "/v1/units/D-102/readings/charge-air.orificeMm",
            "/v1/units/D-101/visits/D-101-01",
            "/v1/fleet/offenders", "/v1/fleet/patterns", "/v1/fleet/repairs", "/v1/fleet/recurrence", "/v1/policy", "/v1/changes?limit=10");

    @Override
    public Integer call() throws IOException, InterruptedException {
        Path folder = DemoCommand.temporary();
        Map<String, String> settings = Map.of(Settings.Key.DATA.key(), folder.toString(), Settings.Key.HOST.key(), "127.0.0.1",
                Settings.Key.PORT.key(), "0");
        try (RunningService service = RunningService.start(new Settings(settings, Optional.empty(), Map.of()));
                HttpClient client = HttpClient.newHttpClient()) {
            DemoCommand.load(service);
            for (String path : ASKED) {
                int status = client.send(HttpRequest.newBuilder(URI.create(service.address() + path)).build(), BodyHandlers.discarding())
                        .statusCode();
                if (status != 200) {
                    System.err.println(path + " was answered with " + status);
                    return 1;
                }
            }
        }
        return 0;
    }
}
