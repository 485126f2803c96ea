package comebackledger.api.page;

import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * Programs of this machine that the page tests need: a browser with its driver, and npm for the checkers. Without them those tests are skipped, and say so
 * loudly; with {@code LEDGER_PAGE_TOOLS=required} in the environment, as in CI, they fail instead.
 */
final class Tool {
    private static final Duration PATIENCE = Duration.ofMinutes(4);

    private Tool() {}

    static Optional<Path> onPath(String name) {
        return Arrays.stream(System.getenv().getOrDefault("PATH", "").split(File.pathSeparator)).map(part -> Path.of(part, name))
                .filter(Files::isExecutable).findFirst();
    }

    /** The program; or the test ends here. */
    static Path needed(String name) {
        Optional<Path> found = onPath(name);
        missing(found.isPresent(), name + " is not on the path");
        return found.orElseThrow();
    }

    static void missing(boolean present, String what) {
        String told = "Pages were NOT looked at: " + what + " (see DEVELOPERS.md).";
        if (!present) {
            System.err.println(told);
        }
        if (!present && "required".equals(System.getenv("LEDGER_PAGE_TOOLS"))) {
            fail(told);
        }
        assumeTrue(present, told);
    }

    /** @param out where what it says is written */
    record Ended(int status, String out) {}

    static Ended run(Path folder, List<String> command) throws IOException, InterruptedException {
        Path out = Files.createTempFile(folder, "out", ".txt");
        Process process = new ProcessBuilder(command).directory(folder.toFile()).redirectErrorStream(true).redirectOutput(out.toFile()).start();
        try {
            if (!process.waitFor(PATIENCE.toSeconds(), TimeUnit.SECONDS)) {
                fail(command.getFirst() + " does not end");
            }
        } finally {
            process.destroyForcibly();
        }
        return new Ended(process.exitValue(), Files.readString(out));
    }
}
