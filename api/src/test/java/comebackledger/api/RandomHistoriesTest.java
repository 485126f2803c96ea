package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.TrailMapping;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Reason;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Invented histories with late, revised and voided visits, missing and replaced meters, over a real store. */
class RandomHistoriesTest {
    private static final Instant NOW = Instant.parse("2026-06-01T00:00:00Z");
    private static final Caller HOST = new Caller("default", "host");
    private static final int VISITS = 45;
    private static final String UNIT = """
            {"build": {"supplyVolts": 12, "networks": [{"name": "can-1", "safety": true, "nodes": [{"module": "engine"}, {"module": "brakes", "safety": true}]}],
             "chargeAir": {"ratedBoost": {"value": 30, "unit": "psi"}, "spots": ["cooler-core", "cooler-outlet-boot"]},
             "engine": {"displacement": {"value": 6.7, "unit": "L"}, "ratedSpeedRpm": 2400}}}
            """;

    private static String visit(Random random, int index) {
        Instant arrived = NOW.minus(Duration.ofDays(700)).plus(Duration.ofHours(index * 370L + random.nextInt(40)));
        List<String> members = new ArrayList<>();
        members.add("\"arrivedAt\": \"" + arrived + "\"");
        if (random.nextInt(12) > 0) {
            members.add("\"releasedAt\": \"" + arrived.plusSeconds(3600L * (2 + random.nextInt(30))) + "\"");
        }
        if (random.nextInt(4) > 0) {
            double km = random.nextInt(15) == 0 ? 5 : 100_000 + index * 6000.0 + random.nextInt(500);
            members.add(String.format(Locale.ROOT, "\"meters\": {\"odometer\": {\"value\": %.1f, \"unit\": \"km\"}%s}", km,
                    random.nextInt(20) == 0 ? ", \"odometerReplaced\": true" : ""));
        }
        if (random.nextInt(4) == 0) {
            members.add("\"codes\": [{\"code\": \"U0121\", \"reportedBy\": \"engine\", \"status\": \"" + (random.nextBoolean() ? "active" : "stored")
                    + "\", \"occurrences\": " + random.nextInt(6) + "}]");
            members.add("\"codesCleared\": " + random.nextBoolean());
        }
        if (random.nextInt(3) == 0) {
            boolean silent = random.nextInt(3) == 0;
            members.add(
                    "\"busChecks\": [{\"network\": \"can-1\", \"power\": \"off\", \"highLow\": {\"value\": " + (random.nextInt(3) == 0 ? 120.5 : 60.2)
                            + ", \"unit\": \"ohm\"}, \"rollCall\": {\"answered\": [\"engine\""
                            + (silent ? "], \"silent\": [\"brakes\"]" : ", \"brakes\"], \"silent\": []")
                            + "}}]");
        }
        if (random.nextInt(4) == 0) {
            members.add("\"chargeAirTests\": [{\"method\": \"smoke\", \"leaksAt\": [" + (random.nextBoolean() ? "\"cooler-core\"" : "") + "]}]");
        }
        if (random.nextInt(3) == 0) {
            String place = List.of("network.can-1.terminator-b", "network.can-1.brakes", "charge-air.cooler-core", "network.can-1")
                    .get(random.nextInt(4));
            members.add("\"repairs\": [{\"place\": \"" + place + "\", \"action\": \"replaced\", \"claimsFixed\": " + (random.nextInt(4) > 0) + "}]");
        }
        return "{" + String.join(", ", members) + "}";
    }

    private static void put(Ledger ledger, int index, String body, OptionalInt replaces) {
        ledger.putVisit(HOST, "T-1", VisitMapping.toCore("WO-" + index, body.getBytes(StandardCharsets.UTF_8), NOW), replaces);
    }

    private static Ledger ledger(JdbcStore store) {
        Ledger ledger = new Ledger(store, new LedgerCodec(), () -> NOW, (_, _, _, _) -> {});
        ledger.putUnit(HOST, UnitMapping.toCore("T-1", UNIT.getBytes(StandardCharsets.UTF_8)));
        return ledger;
    }

    private static String told(Ledger ledger) {
        return TrailMapping.standing(ledger.standing("default", "T-1", Optional.of(NOW)).orElseThrow()).toString();
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void everyOrderOfReceipt_revisedAndVoided_tellsTheSame(long seed) {
        Random random = new Random(seed);
        List<String> visits = new ArrayList<>();
        for (int i = 0; i < VISITS; i++) {
            visits.add(visit(random, i));
        }
        List<Integer> order = new ArrayList<>();
        for (int i = 0; i < VISITS; i++) {
            order.add(i);
        }
        Collections.shuffle(order, random);
        try (JdbcStore inOrder = JdbcStore.inMemory(); JdbcStore shuffled = JdbcStore.inMemory()) {
            Ledger first = ledger(inOrder);
            for (int i = 0; i < VISITS; i++) {
                if (i % 9 != 4) {
                    put(first, i, visits.get(i), OptionalInt.empty());
                }
            }
            Ledger second = ledger(shuffled);
            for (int i : order) {
                boolean revised = i % 5 == 0;
                put(second, i, revised ? visit(random, i) : visits.get(i), OptionalInt.empty());
                if (revised) {
                    put(second, i, visits.get(i), OptionalInt.of(1));
                }
                if (i % 9 == 4) {
                    String arrived = visits.get(i).substring(0, visits.get(i).indexOf('Z') + 2);
                    put(second, i, arrived + ", \"void\": true}", OptionalInt.of(revised ? 2 : 1));
                }
            }

            assertEquals(told(first), told(second));
            assertEquals(List.of(), second.verify((_, _) -> {}), "incremental equals rebuilt");
            assertHoldsUntilItSays(first);
        }
    }

    /** The answer and its reasons stay until {@code validUntil}, and change there where it is below the cap of a day. */
    private static void assertHoldsUntilItSays(Ledger ledger) {
        int changes = 0;
        Instant at = NOW;
        for (int step = 0; step < 200; step++) {
            ReadinessAnswer answer = ask(ledger, at);
            ReadinessAnswer before = ask(ledger, answer.validUntil().minusSeconds(1));
            ReadinessAnswer then = ask(ledger, answer.validUntil());

            assertEquals(grounds(answer), grounds(before), "before " + answer.validUntil());
            assertTrue(!answer.validUntil().isAfter(at.plus(Duration.ofDays(1))));
            if (answer.validUntil().isBefore(at.plus(Duration.ofDays(1)))) {
                assertNotEquals(grounds(answer), grounds(then), "at " + answer.validUntil());
                changes++;
            }
            at = answer.validUntil();
        }
        assertTrue(changes > 0, "something ends within two hundred days");
    }

    private static ReadinessAnswer ask(Ledger ledger, Instant at) {
        return ledger.dispatch().readiness("default", new DispatchDesk.Question("T-1", Trip.STANDARD), Optional.of(at)).orElseThrow();
    }

    private static List<String> grounds(ReadinessAnswer answer) {
        List<String> grounds = new ArrayList<>(List.of(answer.answer().word()));
        for (Reason reason : answer.reasons()) {
            grounds.add(reason.kind().word() + reason.place().orElse("") + reason.grounds());
        }
        return grounds;
    }
}
