package comebackledger.api;

import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.PolicyMapping;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * What a readiness question costs before a policy change, right after one that judges alike, right after one that judges otherwise, and when its rows
 * were made again. Run its main with the test class path; it is no timed test.
 */
final class PolicyChangeBenchmark {
    private static final Instant NOW = Instant.parse("2026-06-01T00:00:00Z");
    private static final Caller HOST = new Caller("default", "host");
    private static final int UNITS = Integer.getInteger("units", 2000);
    private static final int VISITS = 10;
    private static final int QUESTIONS = 200;

    private PolicyChangeBenchmark() {}

    public static void main(String[] arguments) throws InterruptedException {
        try (JdbcStore store = JdbcStore.inMemory()) {
            Ledger ledger = new Ledger(store, new LedgerCodec(), () -> NOW, (_, _, _, _) -> {});
            for (int unit = 0; unit < UNITS; unit++) {
                ledger.putUnit(HOST,
                        UnitMapping.toCore("T-" + unit, bytes("{'build': {'networks': [{'name': 'can-1', 'nodes': [{'module': 'engine'}]}]}}")));
                for (int i = 0; i < VISITS; i++) {
                    Instant arrived = NOW.minus(Duration.ofDays(400)).plus(Duration.ofDays(30L * i));
                    ledger.putVisit(HOST, "T-" + unit,
                            VisitMapping.toCore("V-" + unit + "-" + i, bytes("{'arrivedAt': '" + arrived + "', 'releasedAt': '"
                                    + arrived.plusSeconds(3600)
                                    + "', 'busChecks': [{'network': 'can-1', 'power': 'off', 'highLow': {'value': 60.2, 'unit': 'ohm'},"
                                    + " 'rollCall': {'answered': ['engine'], 'silent': []}}]}"), NOW),
                            OptionalInt.empty());
                }
            }
            ask(ledger);
            double before = ask(ledger);
            policy(ledger, "{'readiness': {'riskHold': 0.6}}", 0);
            double alike = ask(ledger);
            Instant from = Instant.now();
            policy(ledger, "{'bus': {'terminatorTolerance': 0.05}}", 1);
            double otherwise = ask(ledger);
            while (Thread.getAllStackTraces().keySet().stream().anyMatch(thread -> thread.getName().startsWith("refold"))) {
                Thread.sleep(100);
            }
            double refoldSeconds = Duration.between(from, Instant.now()).toMillis() / 1000.0;
            double after = ask(ledger);
            System.out.printf(
                    "%d units of %d visits: a question %.2f ms; after a policy that judges alike %.2f times; right after one that judges otherwise "
                            + "%.1f times; when the rows were made again, %.1f s later, %.2f times%n",
                    UNITS, VISITS, before, alike / before, otherwise / before,
                    refoldSeconds, after / before);
        }
    }

    private static byte[] bytes(String json) {
        return json.replace('\'', '"').getBytes(StandardCharsets.UTF_8);
    }

    private static void policy(Ledger ledger, String json, int replaces) {
        ledger.putPolicy(HOST, PolicyMapping.toCore(bytes(json)), OptionalInt.of(replaces));
    }

    /** Median processor time of the last units, which are made again last. */
    private static double ask(Ledger ledger) {
        List<Double> spent = new ArrayList<>();
        for (int i = 0; i < QUESTIONS; i++) {
            DispatchDesk.Question question = new DispatchDesk.Question("T-" + (UNITS - 1 - i), Trip.STANDARD);
            long from = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
            ledger.dispatch().readiness("default", question, Optional.of(NOW.plusSeconds(60)));
            spent.add((ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() - from) / 1e6);
        }
        return spent.stream().sorted().toList().get(QUESTIONS / 2);
    }
}
