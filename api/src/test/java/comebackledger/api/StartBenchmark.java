package comebackledger.api;

import java.io.BufferedReader;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * From the start of the process to its first answers, with and without a class cache: {@code StartBenchmark JAR CACHE}, by turns, medians. The first is
 * {@code /health/ready}, which asks the store; the second a readiness of a fleet that has a unit.
 */
final class StartBenchmark {
    private static final int ROUNDS = 7;
    private static final Pattern ADDRESS = Pattern.compile("listens on (http://\\S+)");

    private StartBenchmark() {}

    public static void main(String[] arguments) throws Exception {
        Path data = Files.createTempDirectory("start");
        Path lines = Files.writeString(data.resolve("one.ndjson"), "{\"unit\": {\"id\": \"T-1\"}}\n");
        List<String> java = List.of(ProcessHandle.current().info().command().orElse("java"));
        run(List.of(java.getFirst(), "-jar", arguments[0], "import", "--data", data.toString(), lines.toString())).waitFor();
        List<Double> cold = new ArrayList<>();
        List<Double> cached = new ArrayList<>();
        for (int round = 0; round < ROUNDS; round++) {
            cold.add(once(List.of(java.getFirst(), "-jar", arguments[0]), data));
            cached.add(once(List.of(java.getFirst(), "-XX:AOTCache=" + arguments[1], "-jar", arguments[0]), data));
        }
        double without = median(cold);
        double with = median(cached);
        System.out.printf(Locale.ROOT, "from start to the first readiness: %.2f s, with a class cache %.2f s: %.2f of it%n", without, with,
                with / without);
        try (Stream<Path> all = Files.walk(data)) {
            all.sorted(Comparator.reverseOrder()).forEach(path -> path.toFile().delete());
        }
    }

    private static Process run(List<String> command) throws IOException {
        return new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.DISCARD).start();
    }

    /** Seconds. */
    private static double once(List<String> java, Path data) throws Exception {
        List<String> command = new ArrayList<>(java);
        command.addAll(List.of("serve", "--port", "0", "--data", data.toString()));
        try (HttpClient client = HttpClient.newHttpClient()) {
            long from = System.nanoTime();
            Process process = run(command);
            try (BufferedReader out = process.inputReader()) {
                // A Java that cannot use a part of its cache says so first.
                Matcher address = out.lines().map(ADDRESS::matcher).filter(Matcher::find).findFirst()
                        .orElseThrow(() -> new IOException("the service did not say where it listens"));
                for (String path : List.of("/health/ready", "/v1/units/T-1/readiness")) {
                    int status = client.send(HttpRequest.newBuilder(URI.create(address.group(1) + path)).build(), BodyHandlers.ofString())
                            .statusCode();
                    if (status != 200) {
                        throw new IOException(path + " was answered with " + status);
                    }
                }
                return (System.nanoTime() - from) / 1e9;
            } finally {
                process.destroyForcibly(); // it would wait for our kept connection
                process.waitFor();
            }
        }
    }

    private static double median(List<Double> values) {
        return values.stream().sorted().toList().get(values.size() / 2);
    }
}
