package comebackledger.api.page;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.api.picture.ReadingPicture;
import comebackledger.api.picture.Shown;
import comebackledger.policy.Policy.Display;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Objects;
import org.junit.jupiter.api.Test;

/** The page and the picture as approved; how they look is {@link PagesInBrowserTest}'s. */
class BriefingPageTest {
    private static final Shown METRIC = new Shown(Display.METRIC);
    static final String LONG = ("water in the connector, cleaned and greased, " + "w".repeat(60) + " ").repeat(4);

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
