package comebackledger.api.page;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.briefing.Briefing;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Seven invented trucks, each with a story, through the real ledger: somebody who reads nothing but the page can say what to measure first, where, and why.
 *
 * <p>The expected test follows from the rules: the most information per minute over the closed list of tests.
 */
class ToldStoryTest {
    private static final Pattern FIRST = Pattern.compile("<ol class=\"rows tests\">\\s*<li>(.*?)</li>", Pattern.DOTALL);

    @TempDir
    static Path folder;

    private static PageLedger ledger;

    @BeforeAll
    static void tell() {
        ledger = new PageLedger(folder, Instant.parse("2026-04-01T06:00:00Z"));
        ToldTrucks.tell(ledger);
    }

    @AfterAll
    static void close() {
        ledger.close();
    }

    /** What the box at the top says, as a person reads it. */
    private static String first(String unit) {
        Matcher box = FIRST.matcher(ledger.page(unit));
        assertTrue(box.find(), unit);
        return text(box.group(1));
    }

    private static String text(String html) {
        return html.replaceAll("<[^>]*>", " ").replace('\u00a0', ' ').replace("&#39;", "'").replaceAll("\\s+", " ").strip();
    }

    private static void assertSays(String said, String... words) {
        for (String word : words) {
            assertTrue(said.contains(word), () -> "\"" + word + "\" is not in: " + said);
        }
    }

    private static void assertLead(String unit, String... words) {
        assertSays(text(ledger.page(unit).replaceAll("(?s).*<p class=\"lead\">(.*?)</p>.*", "$1")), words);
    }

    /**
     * 120 ohm is one of two terminators, and everybody answers: a terminator is off, or the trunk is broken beyond the last module. Taking one out measures it and
     * the rest without it, 8 min for more than 1.5 bits; splitting the trunk tells no more and takes 15.
     */
    @Test
    void terminatorLostInRain_takeATerminatorOut() {
        assertSays(first("RAIN"), "1. Take the terminator out", "Terminator-b on network j1939-1", "8 minutes", "Measures the terminator itself",
                "Suspected most: Break in the trunk (network j1939-1, between dash and brakes) ",
                "Terminator missing (terminator-a on network j1939-1) ");
        assertLead("RAIN", "Confirmed: trunk of network j1939-1, open for 12 days");
    }

    /**
     * High line at 3 ohm to ground, nobody answers: nothing else reads so (the whole bus is dead, and the lines are still joined by both terminators). What is
     * left is to find the place: both halves of the trunk by themselves.
     */
    @Test
    void shortInAChafedHarness_splitTheTrunk() {
        assertSays(first("CHAFED"), "1. Split the trunk: measure both halves", "Trunk of network j1939-1", "15 minutes",
                "Suspected most: Short to ground (trunk of network j1939-1, line high) 9");
        assertLead("CHAFED", "Confirmed: trunk of network j1939-1");
    }

    /**
     * One silent module and a sound trunk: its plug, its supply or itself (equal weights in the table of odds but for the last). Its supply under load splits
     * them best: 0.75 bits in 10 min, unplugging 0.4 in 6.
     */
    @Test
    void silentModule_measureItsSupply() {
        assertSays(first("SILENT"), "1. Voltage drop of supply and ground, under load", "Brakes on network j1939-1", "10 minutes",
                "Power or ground of the module (brakes on network j1939-1) 4", "Branch or plug of the module (brakes on network j1939-1) 4");
        assertLead("SILENT", "Confirmed: brakes on network j1939-1");
    }

    /** Every reading is within its limits; the line through them is not for long. A joint in one line shows from end to end. */
    @Test
    void growingJoint_measureEachLine() {
        assertSays(first("GROWS"), "1. Each line from end to end", "Trunk of network j1939-1", "12 minutes", "Shows a break or a joint in one line",
                "Corroded joint in the trunk");
        assertLead("GROWS", "No fault is open, but", "runs toward its limit of 61.9 over 6 visits");
    }

    /**
     * Seen leaking at the boot that was replaced and proven 33 days before. With 0.97 that it leaks, a measured test (shows 0.95 of leaks) tells 0.11 bits in
     * 20 min, smoke (0.8) 0.07 in 15, a decay (0.9) 0.07 in 20: the measured one first, and it is the proof afterwards.
     */
    @Test
    void leakThatCameBack_measureTheLeak() {
        assertSays(first("BOOT"), "1. Hold the pressure, measure the flow through the leak", "Cooler-outlet-boot, charge air", "20 minutes",
                "Sizes the leak", "Leak (cooler-outlet-boot, charge air) 97 %");
        assertLead("BOOT", "came back 33 days after the repair of BOOT-1");
        assertSays(text(ledger.page("BOOT")),
                "Replaced: cooler-outlet-boot, charge air , 2026-02-10 ( BOOT-1 ). Held 33 days, 12 000 km; back in BOOT-2."
                        + " Proven by a passing test. Cause: split hose.");
    }

    /** Under 11.0 V at a 12 V truck roll calls and codes say nothing: the supply comes before everything, whatever the codes accuse. */
    @Test
    void lowSupply_measureTheSupplyBeforeBelievingAnyCode() {
        assertSays(first("WEAK"), "1. Voltage drop of supply and ground, under load", "Supply of the vehicle", "10 minutes", "Low supply");
        assertEquals(List.of("supply"), ledger.briefing("WEAK").suspects().stream().map(Briefing.Suspect::system).distinct().toList());
        assertLead("WEAK", "Confirmed: supply of the vehicle");
    }

    /** Three visits with active codes and everything within: an intermittent is suspected most; two minutes to ground tell most for their time. */
    @Test
    void nothingFoundAgainAndAgain_isSuspectedOfAnIntermittent() {
        assertSays(first("NOTHING"), "1. Resistance, high line to ground", "Connector on network j1939-1", "2 minutes",
                "Suspected most: Intermittent, nothing wrong now");
        assertLead("NOTHING", "3 visits with codes and no fault found: suspect an intermittent joint");
        assertTrue(ledger.briefing("NOTHING").nextTests().stream().anyMatch(test -> test.test().equals("wiggle")));
    }

    /** Most information per minute first, in every briefing; the first is never a test that was made already in the visit that tells. */
    @Test
    void everyFirstTest_tellsMostPerMinute() {
        for (String unit : List.of("RAIN", "CHAFED", "SILENT", "GROWS", "BOOT", "WEAK", "NOTHING")) {
            List<Briefing.NextTest> tests = ledger.briefing(unit).nextTests();
            double best = tests.stream().mapToDouble(test -> test.gainBits() / test.minutes()).max().orElseThrow();
            assertEquals(best, tests.getFirst().gainBits() / tests.getFirst().minutes(), 1e-12, unit);
            assertTrue(tests.getFirst().gainBits() > 0.05 && !tests.getFirst().cautions().isEmpty(), unit);
        }
    }
}
