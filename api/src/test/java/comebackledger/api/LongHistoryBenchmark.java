package comebackledger.api;

import comebackledger.ledger.Caller;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.storage.JdbcStore;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;

/**
 * What one visit costs on a unit with a long history beside one on a unit with a short one, and what a late visit costs beside one in order; through
 * the embedded ledger, by turns, on H2 in memory and on files. Each is measured after the same work on another unit: what was just done on the unit itself
 * leaves its rows in the processor's caches, and a visit after something else costs several times as much.
 * Run its main with the test class path; it is no timed test.
 */
final class LongHistoryBenchmark {
    private static final Instant NOW = Instant.parse("2026-06-01T00:00:00Z");
    private static final Caller HOST = new Caller("default", "host");
    private static final int SHORT = 5;
    private static final int LONG = 500;
    /** A long history grows with every visit that is measured: after so many rounds another one takes its place. */
    private static final int ROUNDS_A_UNIT = 20;
    private static final int WARMING = Integer.getInteger("warming", 400);
    private static final int ROUNDS = Integer.getInteger("rounds", 200);
    private static final String UNIT = """
            {"build": {"supplyVolts": 12, "networks": [{"name": "can-1", "safety": true, "nodes": [{"module": "engine"}, {"module": "brakes", "safety": true}]}],
             "chargeAir": {"ratedBoost": {"value": 30, "unit": "psi"}, "spots": ["cooler-core", "cooler-outlet-boot"]},
             "engine": {"displacement": {"value": 6.7, "unit": "L"}, "ratedSpeedRpm": 2400}}}
            """;

    private LongHistoryBenchmark() {}

    public static void main(String[] arguments) throws IOException {
        try (JdbcStore store = JdbcStore.inMemory()) {
            measure("in memory", store);
        }
        Path folder = Files.createTempDirectory("history");
        try (JdbcStore store = JdbcStore.embedded(folder)) {
            measure("on files", store);
        }
    }

    private static void measure(String where, JdbcStore store) {
        Ledger ledger = new Ledger(store, new LedgerCodec(), () -> NOW, (_, _, _, _) -> {});
        List<List<Double>> spent = new ArrayList<>();
        for (Work _ : Work.values()) {
            spent.add(new ArrayList<>());
        }
        for (int round = 0; round < WARMING + ROUNDS; round++) {
            String few = "SHORT-" + round;
            unit(ledger, few, SHORT);
            String many = "LONG-" + round / ROUNDS_A_UNIT;
            int later = round % ROUNDS_A_UNIT;
            if (later == 0) {
                unit(ledger, many, LONG);
            }
            String other = "OTHER-" + round;
            unit(ledger, other, SHORT);
            for (Work work : Work.values()) {
                put(ledger, other, SHORT + work.ordinal(), arrival(SHORT + work.ordinal()), true);
                double ms = switch (work) {
                    case FEW_METERS -> put(ledger, few, SHORT, arrival(SHORT), false);
                    case FEW_CHECK -> put(ledger, few, SHORT + 1, arrival(SHORT + 1), true);
                    case MANY_METERS -> put(ledger, many, LONG + 2 * later, arrival(LONG).plusSeconds(2L * later), false);
                    case MANY_CHECK -> put(ledger, many, LONG + 2 * later + 1, arrival(LONG).plusSeconds(2L * later + 1), true);
                    case LATE -> put(ledger, many, 100_000 + later, arrival(LONG - 10).plusSeconds(60 + later), true);
                };
                if (round >= WARMING) {
                    spent.get(work.ordinal()).add(ms);
                }
            }
        }
        double fewMeters = median(spent.get(Work.FEW_METERS.ordinal()));
        double fewCheck = median(spent.get(Work.FEW_CHECK.ordinal()));
        double manyMeters = median(spent.get(Work.MANY_METERS.ordinal()));
        double manyCheck = median(spent.get(Work.MANY_CHECK.ordinal()));
        double late = median(spent.get(Work.LATE.ordinal()));
        System.out.printf("%s: a bus check on %d visits %.2f ms, on %d %.2f ms, ratio %.2f; meters alone %.2f ms, %.2f ms, ratio %.2f; "
                + "late on %d %.2f ms, %.2f times in order%n", where, SHORT, fewCheck, LONG, manyCheck, manyCheck / fewCheck, fewMeters, manyMeters,
                manyMeters / fewMeters, LONG, late, late / manyCheck);
    }

    private enum Work {
        FEW_METERS, MANY_METERS, FEW_CHECK, MANY_CHECK, LATE
    }

    private static void unit(Ledger ledger, String unit, int visits) {
        ledger.putUnit(HOST, UnitMapping.toCore(unit, UNIT.getBytes(StandardCharsets.UTF_8)));
        for (int i = 0; i < visits; i++) {
            put(ledger, unit, i, arrival(i), i % 3 == 2);
        }
    }

    private static double median(List<Double> values) {
        return values.stream().sorted().toList().get(values.size() / 2);
    }

    private static Instant arrival(int index) {
        return NOW.minus(Duration.ofDays(1400)).plus(Duration.ofDays(2L * index));
    }

    /** Milliseconds of this thread's processor time: others may use the machine too. */
    private static double put(Ledger ledger, String unit, int index, Instant arrived, boolean check) {
        byte[] body = visit(index, arrived, check).getBytes(StandardCharsets.UTF_8);
        long from = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
        ledger.putVisit(HOST, unit, VisitMapping.toCore(unit + "-" + index, body, NOW), OptionalInt.empty());
        return (ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() - from) / 1e6;
    }

    private static String visit(int index, Instant arrived, boolean check) {
        long seconds = Duration.between(arrival(0), arrived).toSeconds();
        double ohm = index % 10 == 5 ? 120.4 : 60 + index % 7 * 0.1;
        String repair = index % 10 == 5
                ? ", \"repairs\": [{\"place\": \"network.can-1.terminator-b\", \"action\": \"replaced\", \"claimsFixed\": true}]"
                : "";
        return "{\"arrivedAt\": \"" + arrived + "\", \"releasedAt\": \"" + arrived.plusSeconds(8 * 3600) + "\","
                + " \"meters\": {\"odometer\": {\"value\": " + (100_000 + seconds / 300) + ", \"unit\": \"km\"}, \"engineHours\": {\"value\": "
                + (1000 + seconds / 10_000) + ", \"unit\": \"h\"}}"
                + (check
                        ? ", \"busChecks\": [{\"network\": \"can-1\", \"power\": \"off\", \"highLow\": {\"value\": " + ohm + ", \"unit\": \"ohm\"},"
                                + " \"rollCall\": {\"answered\": [\"engine\", \"brakes\"], \"silent\": []}}]" + repair
                        : "")
                + "}";
    }
}
