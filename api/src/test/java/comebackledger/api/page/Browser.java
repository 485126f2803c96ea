package comebackledger.api.page;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Base64;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;

/** A real browser without a window, which loads pages from files. */
final class Browser implements AutoCloseable {
    private static final Pattern SHEETS = Pattern.compile("/Type\\s*/Pages\\b[^>]*?/Count (\\d+)|/Count (\\d+)[^>]*?/Type\\s*/Pages\\b");
    private static final double INCH_PER_MM = 1 / 25.4;

    private final ChromeDriver driver;

    private Browser(ChromeDriver driver) {
        this.driver = driver;
    }

    /** A screen, in pixels; a person's own. */
    enum Screen {
        PHONE(390, 844), TABLET(820, 1180);

        private final int width;
        private final int height;

        Screen(int width, int height) {
            this.width = width;
            this.height = height;
        }
    }

    /** A sheet of paper, mm. */
    enum Paper {
        A4(210, 297), LETTER(215.9, 279.4);

        private final double width;
        private final double height;

        Paper(double width, double height) {
            this.width = width;
            this.height = height;
        }
    }

    static Browser open() {
        Path chromium = Tool.needed("chromium");
        Path driver = Tool.needed("chromedriver");
        ChromeOptions options = new ChromeOptions().setBinary(chromium.toString()).addArguments("--headless", "--no-sandbox", "--disable-gpu",
                "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
                "--allow-file-access-from-files");
        return new Browser(new ChromeDriver(new ChromeDriverService.Builder().usingDriverExecutable(driver.toFile()).usingAnyFreePort().build(),
                options));
    }

    void look(Path page, Screen screen) {
        Map<String, Object> size = new HashMap<>(Map.of("width", screen.width, "height", screen.height, "deviceScaleFactor", 1, "mobile", true));
        driver.executeCdpCommand("Emulation.setDeviceMetricsOverride", size);
        driver.get(page.toUri().toString());
    }

    /** What a function of the page gives back. */
    Object ask(String script) {
        return Objects.requireNonNullElse(driver.executeScript(script), "");
    }

    @SuppressWarnings("unchecked")
    List<String> texts(String script) {
        return ((List<Object>) ask(script)).stream().map(String::valueOf).toList();
    }

    /** What a promise of the page gives back. */
    Object wait(String script) {
        return Objects.requireNonNullElse(driver.executeAsyncScript("const done = arguments[arguments.length - 1]; " + script), "");
    }

    /** A picture of the whole page, for a person to look at. */
    void photograph(Path file) throws java.io.IOException {
        Map<String, Object> taken = driver.executeCdpCommand("Page.captureScreenshot", Map.of("captureBeyondViewport", true, "format", "png"));
        Files.write(file, Base64.getDecoder().decode(String.valueOf(taken.get("data"))));
    }

    /** How many sheets the page of {@link #look} takes. @param file where the print is kept, for a person to look at */
    int sheets(Paper paper, Path file) throws java.io.IOException {
        Map<String, Object> printed = driver.executeCdpCommand("Page.printToPDF", Map.of("paperWidth", paper.width * INCH_PER_MM, "paperHeight",
                paper.height * INCH_PER_MM, "printBackground", false, "preferCSSPageSize", true));
        byte[] pdf = Base64.getDecoder().decode(String.valueOf(printed.get("data")));
        Files.write(file, pdf);
        Matcher count = SHEETS.matcher(new String(pdf, java.nio.charset.StandardCharsets.ISO_8859_1));
        if (!count.find()) {
            throw new IllegalStateException("the print tells no number of sheets");
        }
        return Integer.parseInt(count.group(1) != null ? count.group(1) : count.group(2));
    }

    @Override
    public void close() {
        driver.quit();
    }
}
