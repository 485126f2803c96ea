package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.baseline.Baseline;
import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.ReadinessMapping;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a fleet teaches, through real H2 files and the real codec. */
class EmbeddedBaselineTest {
    private static final Caller HOST = new Caller("default", "host");
    private static final Instant FIRST = Instant.parse("2026-01-01T08:00:00Z");
    private static final Instant NOW = Instant.parse("2026-06-01T00:00:00Z");
    private static final String REPAIR = ", \"chargeAirTests\": [{\"stage\": \"as-found\", \"method\": \"smoke\", \"leaksAt\": [\"cooler-core\"]}], "
            + "\"repairs\": [{\"place\": \"charge-air.cooler-core\", \"action\": \"replaced\", \"claimsFixed\": true}]";

    @TempDir
    Path folder;

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static void put(Ledger ledger, String unit, int day, boolean fails) {
        Instant arrived = FIRST.plus(Duration.ofDays(day));
        String body = "{\"arrivedAt\": \"" + arrived + "\", \"releasedAt\": \"" + arrived.plusSeconds(7200)
                + "\", \"meters\": {\"odometer\": {\"value\": " + (100_000 + 300 * day) + ", \"unit\": \"km\"}}" + (fails ? REPAIR : "") + "}";
        ledger.putVisit(HOST, unit, VisitMapping.toCore("WO-" + unit + "-" + day, bytes(body), ledger.now()), OptionalInt.empty());
    }

    private static void tellFleet(Ledger ledger) {
        for (int unit = 0; unit < 12; unit++) {
            String id = "T-" + unit;
            ledger.putUnit(HOST, UnitMapping.toCore(id, bytes("{\"group\": \"linehaul\", \"inServiceAt\": \"2025-01-01T00:00:00Z\"}")));
            for (int visit = 0; visit < 5; visit++) {
                put(ledger, id, 30 * visit, visit > 0 && unit % 4 == visit % 4);
            }
        }
    }

    private static ReadinessAnswer ask(Ledger ledger, String unit, Instant at) {
        return ledger.dispatch().readiness("default", new DispatchDesk.Question(unit, new Trip(OptionalDouble.of(600), OptionalDouble.empty())),
                Optional.of(at)).orElseThrow();
    }

    @Test
    void baseline_isLearnedAtTheFirstQuestion_keptAndCited() {
        try (JdbcStore store = JdbcStore.embedded(folder.resolve("first"))) {
            Ledger ledger = new Ledger(store, new LedgerCodec(), () -> NOW, (_, _, _, _) -> {});
            tellFleet(ledger);

            ReadinessAnswer first = ask(ledger, "T-3", NOW);
            ReadinessAnswer again = ask(ledger, "T-3", NOW);

            assertEquals(1, first.risk().orElseThrow().baselineVersion());
            assertEquals(first, again);
            assertTrue(first.risk().orElseThrow().probability() > 0.001 && first.risk().orElseThrow().probability() < 0.5,
                    ReadinessMapping.toWire(first).toPrettyString());
            assertEquals(1, store.read("default", tx -> tx.baselineVersions()).size());
            assertTrue(!first.validUntil().isAfter(NOW.plus(Ledger.BASELINE_EVERY)));
        }
        try (JdbcStore store = JdbcStore.embedded(folder.resolve("first"))) {
            Ledger restarted = new Ledger(store, new LedgerCodec(), () -> NOW, (_, _, _, _) -> {});

            assertEquals(1, ask(restarted, "T-3", NOW).risk().orElseThrow().baselineVersion());
        }
    }

    @Test
    void baseline_bytesGoTheWholeWay() {
        try (JdbcStore store = JdbcStore.embedded(folder.resolve("bytes"))) {
            Ledger ledger = new Ledger(store, new LedgerCodec(), () -> NOW, (_, _, _, _) -> {});
            tellFleet(ledger);

            Baseline learned = ledger.baselines().learn("default").orElseThrow();

            byte[] kept = store.read("default", tx -> tx.baseline().orElseThrow()).content();
            assertEquals(learned, new LedgerCodec().decode(kept, Baseline.class));
            assertEquals(12, learned.units());
            assertEquals(300, learned.usage().kmPerDay().orElseThrow(), 1e-9);
        }
    }

    @Test
    void question_ofBeforeTheBaseline_saysWhyThereIsNoRisk() {
        try (JdbcStore store = JdbcStore.embedded(folder.resolve("past"))) {
            Instant[] now = {NOW};
            Ledger ledger = new Ledger(store, new LedgerCodec(), () -> now[0], (_, _, _, _) -> {});
            tellFleet(ledger);
            now[0] = NOW.plusSeconds(60);
            assertTrue(ask(ledger, "T-3", NOW.plusSeconds(60)).risk().isPresent());

            ReadinessAnswer before = ask(ledger, "T-3", NOW.plusSeconds(30));

            assertEquals(Optional.empty(), before.risk());
            assertTrue(before.riskAbsent().orElseThrow().contains("No baseline"));
        }
    }

    @Test
    void baseline_isLearnedAgain_byTheScheduleByGrowthAndByRebuild() {
        try (JdbcStore store = JdbcStore.embedded(folder.resolve("again"))) {
            Instant[] now = {NOW};
            Ledger ledger = new Ledger(store, new LedgerCodec(), () -> now[0], (_, _, _, _) -> {}, Duration.ofHours(6));
            tellFleet(ledger);
            ledger.baselines().learnWherePlanned();
            assertEquals(List.of(), versions(store), "nobody asked yet");
            ledger.baselines().learnIfDue("default");
            ledger.baselines().learnIfDue("default");
            ledger.baselines().learnWherePlanned();
            assertEquals(List.of(1), versions(store));

            now[0] = NOW.plus(Duration.ofHours(6));
            ledger.baselines().learnWherePlanned();
            assertEquals(List.of(1, 2), versions(store));

            for (int unit = 0; unit < 12; unit++) {
                for (int day = 121; day < 125; day++) {
                    put(ledger, "T-" + unit, day, false);
                }
            }
            ledger.baselines().learnIfDue("default");
            assertEquals(List.of(1, 2, 3), versions(store));

            ledger.rebuild((_, _) -> {});
            assertEquals(List.of(1, 2, 3, 4), versions(store));
        }
    }

    private static List<Integer> versions(JdbcStore store) {
        return store.read("default", tx -> tx.baselineVersions().stream().map(version -> version.version()).toList());
    }
}
