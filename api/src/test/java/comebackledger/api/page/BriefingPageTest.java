package comebackledger.api.page;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.api.Approved;
import comebackledger.api.picture.ReadingPicture;
import comebackledger.api.picture.Shown;
import comebackledger.policy.Policy.Display;
import java.io.IOException;
import org.junit.jupiter.api.Test;

/** The page and the picture as approved; how they look is {@link PagesInBrowserTest}'s. */
class BriefingPageTest {
    private static final Shown METRIC = new Shown(Display.METRIC);
    static final String LONG = ("water in the connector, cleaned and greased, " + "w".repeat(60) + " ").repeat(4);

    @Test
    void page_isAsApproved() throws IOException {
        Approved.assertApproved(BriefingPageTest.class, "briefing.approved.html",
                BriefingPage.of(InventedBriefing.of("water in the connector", 2), METRIC));
    }

    @Test
    void picture_isAsApproved() throws IOException {
        Approved.assertApproved(BriefingPageTest.class, "reading.approved.svg",
                ReadingPicture.of(InventedBriefing.drifting(), METRIC, "T-104", "reading"));
    }

    @Test
    void text_isEscapedWhereverItStands() {
        String page = BriefingPage.of(InventedBriefing.of("</td><script>\"'&{{unit}}", 1), METRIC);

        assertFalse(page.contains("<script") || page.contains("</td></td>"), page);
        assertTrue(page.contains("&lt;/td&gt;&lt;script&gt;&quot;&#39;&amp;{{unit}}"), page);
    }
}
