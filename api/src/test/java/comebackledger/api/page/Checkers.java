package comebackledger.api.page;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** The checkers of {@code src/test/page-tools}, installed under {@code target} by npm as its lock file says. */
final class Checkers {
    private static final Path TOOLS = Path.of("target", "page-tools").toAbsolutePath();
    private static final Path SOURCE = Path.of("src", "test", "page-tools");

    private Checkers() {}

    /** The folder they are in; or the test ends here. */
    static synchronized Path installed() throws IOException, InterruptedException {
        Path npm = Tool.needed("npm");
        Tool.needed("node");
        Files.createDirectories(TOOLS);
        boolean same = true;
        for (String file : List.of("package.json", "package-lock.json")) {
            Path there = TOOLS.resolve(file);
            same &= Files.exists(there) && Files.mismatch(SOURCE.resolve(file), there) < 0;
            Files.write(there, Files.readAllBytes(SOURCE.resolve(file)));
        }
        if (!same || !Files.exists(TOOLS.resolve("node_modules/.package-lock.json"))) {
            Tool.Ended ended = Tool.run(TOOLS, List.of(npm.toString(), "ci", "--ignore-scripts", "--no-audit", "--no-fund"));
            Tool.missing(ended.status() == 0, "npm installs no checkers: " + ended.out());
        }
        return TOOLS;
    }

    /** HTML, CSS and SVG; warnings count. */
    static String validated(List<String> files) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(ProcessHandle.current().info().command().orElse("java"), "-jar",
                installed().resolve("node_modules/vnu-jar/build/dist/vnu.jar").toString(), "--Werror", "--also-check-svg", "--exit-zero-always",
                "--stdout", "--format", "gnu"));
        command.addAll(files);
        return Tool.run(TOOLS, command).out().lines().filter(line -> !line.contains("Document checking completed")).reduce("",
                (all, line) -> all + line + "\n");
    }

    static String linted(List<String> pages) throws IOException, InterruptedException {
        Files.writeString(TOOLS.resolve(".htmlvalidate.json"),
                "{\"root\": true, \"extends\": [\"html-validate:recommended\", \"html-validate:a11y\"]}");
        List<String> command = new ArrayList<>(
                List.of(Tool.needed("node").toString(), installed().resolve("node_modules/html-validate/bin/html-validate.mjs").toString(),
                        "--config", TOOLS.resolve(".htmlvalidate.json").toString()));
        command.addAll(pages);
        return Tool.run(TOOLS, command).out();
    }
}
