package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import comebackledger.ledger.Caller;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Outcome;
import comebackledger.ledger.RecordedVisit;
import comebackledger.ledger.Standing;
import comebackledger.ledger.Stored;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.TrailMapping;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.storage.JdbcStore;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.TreeSet;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Units of more visits than the newest of a row: what is kept and answered of them is the same whether their rows grew visit by visit, were made of all
 * visits at once, or came in any order; with meters that slip and are replaced.
 */
class LongHistoriesTest {
    private static final Caller HOST = new Caller("default", "host");
    private static final Instant NOW = Instant.parse("2026-06-01T00:00:00Z");
    private static final String UNIT = "{\"build\": {\"networks\": [{\"name\": \"can-1\", \"nodes\": [{\"module\": \"engine\"}]}]}}";
    private static final int VISITS = 80;

    @ParameterizedTest
    @ValueSource(longs = {1, 2})
    void rows_growAsTheyAreRemade(long seed) {
        List<String> visits = visits(new SplittableRandom(seed));
        List<Integer> order = new ArrayList<>();
        for (int i = 0; i < VISITS; i++) {
            order.add(i);
        }
        Stored.Fold inOrder = put(visits, order);
        Collections.shuffle(order.subList(VISITS / 2, VISITS), new Random(seed));
        Stored.Fold anyOrder = put(visits, order);

        assertArrayEquals(inOrder.state(), anyOrder.state());
        assertArrayEquals(inOrder.summary(), anyOrder.summary());
    }

    private static Stored.Fold put(List<String> visits, List<Integer> order) {
        try (JdbcStore store = JdbcStore.inMemory()) {
            AtomicLong receipts = new AtomicLong();
            Ledger ledger = new Ledger(store, new LedgerCodec(), () -> NOW.plusMillis(receipts.getAndIncrement()), (_, _, _, _) -> {});
            ledger.putUnit(HOST, UnitMapping.toCore("T-1", UNIT.getBytes(StandardCharsets.UTF_8)));
            for (int i : order) {
                byte[] body = visits.get(i).getBytes(StandardCharsets.UTF_8);
                RecordedVisit told = ((Outcome.Created<RecordedVisit>) ledger.putVisit(HOST, "T-1", VisitMapping.toCore("WO-" + i, body, NOW),
                        OptionalInt.empty())).answer();
                if (i % 2 == 0) {
                    assertEquals(ledger.visit("default", "T-1", "WO-" + i, OptionalInt.empty()).orElseThrow().warnings(), told.warnings());
                }
                if (i % 20 == 0) {
                    assertEquals(List.of(), ledger.verify((_, _) -> {}), "after " + i);
                    Standing standing = told.standing().orElseThrow();
                    assertEquals(TrailMapping.standing(ledger.standing("default", "T-1", Optional.of(standing.asOf())).orElseThrow()),
                            TrailMapping.standing(standing));
                }
            }
            assertEquals(List.of(), ledger.verify((_, _) -> {}));
            return store.write("default", tx -> {
                tx.lock(new TreeSet<>(List.of("T-1")));
                return tx.fold("T-1").orElseThrow();
            });
        }
    }

    private static List<String> visits(SplittableRandom random) {
        List<String> visits = new ArrayList<>();
        Instant at = NOW.minus(Duration.ofDays(1000));
        double km = 100_000;
        double hours = 4_000;
        for (int i = 0; i < VISITS; i++) {
            double passed = random.nextInt(1, 9);
            at = at.plus(Duration.ofHours((long) (24 * passed)));
            km += 300 * passed;
            hours += 7.3 * passed;
            boolean replaced = random.nextInt(25) == 0;
            double before = km;
            km = replaced ? 12 : km;
            String odometer = "\"odometer\": {\"value\": " + (random.nextInt(20) == 0 ? 5 : km) + ", \"unit\": \"km\"}"
                    + (replaced ? ", \"odometerReplaced\": true" : "")
                    + (replaced && random.nextBoolean() ? ", \"previousOdometer\": {\"value\": " + before + ", \"unit\": \"km\"}" : "");
            String meters = switch (random.nextInt(4)) {
                case 0 -> "\"engineHours\": {\"value\": " + hours + ", \"unit\": \"h\"}";
                case 1 -> odometer;
                default -> odometer + ", \"engineHours\": {\"value\": " + hours + ", \"unit\": \"h\"}";
            };
            visits.add("{\"arrivedAt\": \"" + at + "\", \"releasedAt\": \"" + at.plusSeconds(3600) + "\", \"meters\": {" + meters + "}" + work(random)
                    + "}");
        }
        return visits;
    }

    private static String work(SplittableRandom random) {
        double ohm = random.nextInt(3) == 0 ? 120.4 : 60.2;
        String check = ", \"busChecks\": [{\"network\": \"can-1\", \"power\": \"off\", \"highLow\": {\"value\": " + ohm + ", \"unit\": \"ohm\"}}]";
        return switch (random.nextInt(6)) {
            case 0, 1 -> check;
            case 2 -> check + ", \"repairs\": [{\"place\": \"network.can-1.terminator-b\", \"action\": \"replaced\", \"claimsFixed\": true}]";
            default -> "";
        };
    }
}
