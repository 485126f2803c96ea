package comebackledger.api.page;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.api.demo.DemoFleet;
import comebackledger.api.picture.ReadingPicture;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Pages and pictures in a real browser at the sizes people have, and under the checkers of the npm registry. What was seen is left under
 * {@code target/looked-at}, for a person to look at too.
 */
class PagesInBrowserTest {
    private static final Instant AT = Instant.parse("2026-04-01T06:00:00Z");
    private static final Path SEEN = Path.of("target", "looked-at").toAbsolutePath();
    /** Markup, template words, quotes, a very long word, right-to-left script with an override, and an emoji of several code points. */
    static final String NASTY = "\u0000\u0007\u001b\ufffe<script>alert(1)</script></li><img src=x onerror=alert(1)> &amp; \"q\" 'q' {{unit}} {{{svg}}} ]]> "
            + "\u0634\u0627\u062d\u0646\u0629 \u05de\u05e9\u05d0\u05d9\u05ea \u202ereversed\u202c " + "w".repeat(300)
            + " \ud83d\udc69\u200d\ud83d\udd27 end";

    @TempDir
    static Path folder;

    private static final Map<String, Path> PAGES = new LinkedHashMap<>();
    private static final Map<String, Path> PICTURES = new LinkedHashMap<>();

    @BeforeAll
    static void write() throws IOException {
        Files.createDirectories(SEEN);
        try (PageLedger ledger = new PageLedger(folder.resolve("data"), AT)) {
            ToldTrucks.tell(ledger);
            ToldTrucks.longNames(ledger);
            List<String> units = new ArrayList<>(List.of("w".repeat(64), "RAIN", "CHAFED", "SILENT", "GROWS", "BOOT", "WEAK", "NOTHING"));
            // The units with a story, some of ordinary luck, and the one never seen.
            List<String> shown = List.of("D-101", "D-102", "D-103", "D-104", "D-105", "D-106", "D-107", "D-108", "D-109", "D-136");
            units.addAll(shown);
            for (ObjectNode line : DemoFleet.lines(AT)) {
                if (shown.contains(line.at("/unit/id").asText()) || shown.contains(line.at("/visit/unit").asText())) {
                    ledger.line(line);
                }
            }
            for (String unit : units) {
                page(unit, ledger.page(unit));
                for (var series : ledger.readings(unit)) {
                    picture(unit + "-" + series.series(), ReadingPicture.of(series, PageLedger.METRIC, unit, "reading"));
                }
            }
        }
        for (String name : List.of("holds", "recurrence")) {
            try (InputStream in = ReadingPicture.class.getResourceAsStream(name + ".approved.svg")) {
                picture(name, new String(Objects.requireNonNull(in, name).readAllBytes(), StandardCharsets.UTF_8));
            }
        }
        page("fullest", BriefingPage.of(InventedBriefing.of(BriefingPageTest.LONG, 6), PageLedger.METRIC));
        page("nasty", BriefingPage.of(InventedBriefing.of(NASTY, 3), PageLedger.METRIC));
    }

    private static String shortened(String name) {
        return name.replaceAll("w{20,}", "www");
    }

    private static void page(String name, String html) throws IOException {
        PAGES.put(name, Files.writeString(SEEN.resolve(shortened(name) + ".html"), html));
    }

    private static void picture(String name, String svg) throws IOException {
        PICTURES.put(name, Files.writeString(SEEN.resolve(shortened(name) + ".svg"), svg));
    }

    /** No horizontal scroll, nothing beyond the edge. */
    private static final String CUT = """
            const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
            const out = wide > 0 ? ['scrolls by ' + wide] : [];
            for (const e of document.querySelectorAll('body *')) {
              const box = e.getBoundingClientRect();
              if (box.width > 0 && (box.right > innerWidth + 1 || box.left < -1)) out.push('beyond the edge: ' + e.outerHTML.slice(0, 120));
            }
            return out;""";

    /** No text of a picture outside it or over another. */
    private static final String TEXTS = """
            const out = [];
            for (const svg of document.querySelectorAll('svg[role=img]')) {
              const frame = svg.getBoundingClientRect();
              const texts = [...svg.querySelectorAll('text')].map(e => [e, e.getBoundingClientRect()]);
              texts.forEach(([e, box], i) => {
                if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1)
                  out.push('cut in the picture: ' + e.textContent);
                texts.slice(i + 1).forEach(([other, o]) => {
                  const dx = Math.min(box.right, o.right) - Math.max(box.left, o.left);
                  const dy = Math.min(box.bottom, o.bottom) - Math.max(box.top, o.top);
                  if (dx > 2 && dy > 4) out.push('over each other: ' + e.textContent + ' | ' + other.textContent);
                });
              });
            }
            return out;""";

    @Test
    void pages_areWholeOnPhoneTabletAndPaper() throws IOException {
        List<String> wrong = new ArrayList<>();
        try (Browser browser = Browser.open()) {
            for (Map.Entry<String, Path> page : PAGES.entrySet()) {
                for (Browser.Screen screen : Browser.Screen.values()) {
                    browser.look(page.getValue(), screen);
                    Stream.of(CUT, TEXTS).flatMap(script -> browser.texts(script).stream())
                            .forEach(fault -> wrong.add(page.getKey() + " " + screen + ": " + fault));
                    browser.photograph(SEEN.resolve(shortened(page.getKey()) + "-" + screen + ".png"));
                }
                for (Browser.Paper paper : Browser.Paper.values()) {
                    int sheets = browser.sheets(paper, SEEN.resolve(shortened(page.getKey()) + "-" + paper + ".pdf"));
                    // An ordinary truck is told on one sheet; names of 64 letters take what they take.
                    if (sheets > (page.getKey().length() < 64 ? 1 : 2)) {
                        wrong.add(page.getKey() + " " + paper + ": " + sheets + " sheets");
                    }
                }
            }
        }
        assertEquals(List.of(), wrong);
    }

    /** By themselves, as another program shows them. */
    @Test
    void pictures_cutNoTextAndPutNoneOverAnother() throws IOException {
        List<String> wrong = new ArrayList<>();
        try (Browser browser = Browser.open()) {
            for (Map.Entry<String, Path> picture : PICTURES.entrySet()) {
                browser.look(picture.getValue(), Browser.Screen.TABLET);
                browser.texts(TEXTS).forEach(fault -> wrong.add(picture.getKey() + ": " + fault));
            }
        }
        assertEquals(List.of(), wrong);
    }

    /** What people wrote is text and nothing else: no script, no image, no element of theirs; each piece in its own direction. */
    @Test
    void nastyText_isShownAsText() {
        try (Browser browser = Browser.open()) {
            browser.look(PAGES.get("nasty"), Browser.Screen.PHONE);

            assertEquals(0L,
                    browser.ask("return document.scripts.length + document.images.length + document.querySelectorAll('iframe,link').length"));
            assertTrue(browser.texts("return [...document.querySelectorAll('bdi')].map(e => e.textContent)").stream()
                    .anyMatch(text -> text.contains("<script>alert(1)</script></li><img src=x")));
            assertEquals(List.of("isolate"),
                    browser.texts("return [...new Set([...document.querySelectorAll('bdi')].map(e => getComputedStyle(e).unicodeBidi))]"));
        }
    }

    /** The accessibility checker, in the page itself: every rule it has, at both screens. */
    @Test
    void accessibilityChecker_findsNothing() throws Exception {
        String axe = Files.readString(Checkers.installed().resolve("node_modules/axe-core/axe.min.js"));
        List<String> wrong = new ArrayList<>();
        try (Browser browser = Browser.open()) {
            for (Map.Entry<String, Path> page : PAGES.entrySet()) {
                for (Browser.Screen screen : Browser.Screen.values()) {
                    browser.look(page.getValue(), screen);
                    browser.ask(axe);
                    browser.wait(
                            "axe.run(document).then(r => done(r.violations.map(v => v.id + ': ' + v.nodes[0].html).join('; ')), e => done(String(e)))")
                            .toString().lines().forEach(fault -> wrong.add(page.getKey() + " " + screen + ": " + fault));
                }
            }
        }
        assertEquals(List.of(), wrong);
    }

    @Test
    void validators_findNothing() throws Exception {
        List<String> files = new ArrayList<>();
        PAGES.values().forEach(page -> files.add(page.toString()));
        List<String> pages = List.copyOf(files);
        PICTURES.values().forEach(picture -> files.add(picture.toString()));

        assertEquals("", Checkers.validated(files));
        assertEquals("", Checkers.linted(pages));
    }
}
