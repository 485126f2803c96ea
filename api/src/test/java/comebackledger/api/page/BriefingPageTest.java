package comebackledger.api.page;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import comebackledger.api.picture.ReadingPicture;
import comebackledger.api.picture.Shown;
import comebackledger.policy.Policy.Display;
import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The page and the picture as approved, and how they look where a browser is at hand. */
class BriefingPageTest {
    private static final Shown METRIC = new Shown(Display.METRIC);
    private static final String LONG = ("water in the connector, cleaned and greased, " + "w".repeat(60) + " ").repeat(4);

    @TempDir
    Path folder;

    @Test
    void page_isAsApproved() throws IOException {
        assertApproved("briefing.approved.html", BriefingPage.of(InventedBriefing.of("water in the connector", 2), METRIC));
    }

    @Test
    void picture_isAsApproved() throws IOException {
        assertApproved("reading.approved.svg", ReadingPicture.of(InventedBriefing.drifting(), METRIC, "T-104", "reading"));
    }

    @Test
    void text_isEscapedWhereverItStands() {
        String page = BriefingPage.of(InventedBriefing.of("</td><script>\"'&{{unit}}", 1), METRIC);

        assertFalse(page.contains("<script") || page.contains("</td></td>"), page);
        assertTrue(page.contains("&lt;/td&gt;&lt;script&gt;&quot;&#39;&amp;{{unit}}"), page);
    }

    /** As full as a page gets: every table at its limit, all free text long. */
    @Test
    void fullestPage_isOneSheet_andNoWiderThanAPhone() throws Exception {
        Optional<Path> browser = browser();
        assumeTrue(browser.isPresent(), "no chromium on the path");
        Files.writeString(folder.resolve("page.html"), BriefingPage.of(InventedBriefing.of(LONG, 6), METRIC));
        Files.writeString(folder.resolve("look.html"), """
                <iframe src="page.html" width="360" height="700"></iframe><p></p>
                <script>onload = () => { const page = document.querySelector('iframe').contentDocument.documentElement;
                document.querySelector('p').textContent = 'overflow ' + (page.scrollWidth - page.clientWidth); }</script>
                """);

        Path pdf = folder.resolve("page.pdf");
        run(browser.get(), "--no-pdf-header-footer", "--print-to-pdf=" + pdf, folder.resolve("page.html").toUri().toString());
        String dom = run(browser.get(), "--allow-file-access-from-files", "--dump-dom", folder.resolve("look.html").toUri().toString());

        assertTrue(Files.readString(pdf, StandardCharsets.ISO_8859_1).contains("/Count 1"), "more than one sheet");
        assertTrue(dom.contains("overflow 0"), dom);
    }

    private static Optional<Path> browser() {
        return Arrays.stream(System.getenv().getOrDefault("PATH", "").split(File.pathSeparator)).map(part -> Path.of(part, "chromium"))
                .filter(Files::isExecutable).findFirst();
    }

    private String run(Path browser, String... arguments) throws IOException, InterruptedException {
        List<String> command = new java.util.ArrayList<>(List.of(browser.toString(), "--headless", "--no-sandbox", "--disable-gpu",
                "--user-data-dir=" + folder.resolve("profile")));
        command.addAll(List.of(arguments));
        Path out = folder.resolve("out.txt");
        Process process = new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(out.toFile()).start();
        try {
            assertTrue(process.waitFor(Duration.ofSeconds(90).toSeconds(), TimeUnit.SECONDS), "the browser does not end");
        } finally {
            process.destroyForcibly();
        }
        return Files.readString(out);
    }

    /** The new text is left under target, to be looked at in a browser and approved by hand. */
    private static void assertApproved(String name, String found) throws IOException {
        Path received = Path.of("target", "received", name.replace("approved", "received"));
        Files.createDirectories(Objects.requireNonNull(received.getParent()));
        Files.writeString(received, found);
        try (InputStream in = BriefingPageTest.class.getResourceAsStream(name)) {
            assertEquals(in == null ? "" : new String(in.readAllBytes(), StandardCharsets.UTF_8), found, name + " differs; look at " + received);
        }
    }
}
