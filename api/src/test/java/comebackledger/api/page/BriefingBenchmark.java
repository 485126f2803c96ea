package comebackledger.api.page;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Arrays;
import java.util.Locale;

/**
 * What a briefing costs on a unit with a long history against one with a short one, by turns in one run of one ledger: the answer itself, and the page.
 *
 * <p>Run: {@code java -cp .. comebackledger.api.page.BriefingBenchmark [visits] [rounds]}.
 */
final class BriefingBenchmark {
    private static final int SHORT = 5;
    /** Processor time: what else the machine does is not counted. */
    private static final ThreadMXBean PROCESSOR = ManagementFactory.getThreadMXBean();

    private BriefingBenchmark() {}

    public static void main(String[] arguments) throws Exception {
        int visits = arguments.length > 0 ? Integer.parseInt(arguments[0]) : 500;
        int rounds = arguments.length > 1 ? Integer.parseInt(arguments[1]) : 200;
        Path folder = Files.createTempDirectory("briefing-benchmark");
        try (PageLedger ledger = new PageLedger(folder, Instant.parse("2026-04-01T06:00:00Z"))) {
            ToldTrucks.history(ledger, "SHORT", SHORT);
            ToldTrucks.history(ledger, "LONG", visits);
            for (int warm = 0; warm < rounds / 2; warm++) {
                ledger.page("SHORT");
                ledger.page("LONG");
            }
            double[] few = new double[rounds];
            double[] many = new double[rounds];
            for (int round = 0; round < rounds; round++) {
                few[round] = milliseconds(ledger, "SHORT");
                many[round] = milliseconds(ledger, "LONG");
            }
            System.out.printf(Locale.ROOT, "briefing of %d visits %.2f ms of processor time, of %d visits %.2f ms: ratio %.2f%n", SHORT, median(few),
                    visits, median(many),
                    median(many) / median(few));
        }
    }

    private static double milliseconds(PageLedger ledger, String unit) {
        long start = PROCESSOR.getCurrentThreadCpuTime();
        ledger.page(unit);
        return (PROCESSOR.getCurrentThreadCpuTime() - start) / 1e6;
    }

    private static double median(double[] times) {
        double[] sorted = times.clone();
        Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }
}
