package comebackledger.rules;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Stored;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalInt;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What must hold of any history, on invented ones of hundreds of visits: late, revised, withdrawn, with missing, wrong and replaced meters. */
class RandomHistoriesTest {
    private static final int VISITS = 220;
    private static final Duration A_DAY = Duration.ofDays(1);

    private static List<String> history(long seed, int visits) {
        Duration between = Duration.ofDays(900).dividedBy(visits);
        InventedHistory invented = new InventedHistory(seed, Yard.NOW.minus(Duration.ofDays(902)), between);
        return IntStream.range(0, visits).mapToObj(invented::visit).toList();
    }

    private static boolean withdrawn(int index) {
        return index % 11 == 4;
    }

    /** As the visits happened, without those that are withdrawn. */
    private static Yard.Truck inOrder(Yard yard, List<String> visits) {
        Yard.Truck truck = yard.truck();
        for (int i = 0; i < visits.size(); i++) {
            if (!withdrawn(i)) {
                truck.was("WO-" + i, visits.get(i));
            }
        }
        return truck;
    }

    /** In any order; every fifth is wrong at first and revised some time later, and some are withdrawn some time later. */
    private static Yard.Truck asPaperworkComes(Yard yard, List<String> visits, long seed) {
        Random random = new Random(seed);
        List<String> wrong = history(seed + 1000, visits.size());
        List<Runnable> later = new ArrayList<>();
        List<Integer> order = new ArrayList<>(IntStream.range(0, visits.size()).boxed().toList());
        Collections.shuffle(order, random);
        Yard.Truck truck = yard.truck();
        for (int i : order) {
            boolean revised = i % 5 == 0;
            truck.was("WO-" + i, revised ? wrong.get(i) : visits.get(i));
            if (withdrawn(i)) {
                later.add(() -> truck.put("WO-" + i, Yard.visit("2025-01-01T00:00:00Z", "'void': true"), OptionalInt.of(1)));
            } else if (revised) {
                later.add(() -> truck.put("WO-" + i, visits.get(i), OptionalInt.of(1)));
            }
            if (!later.isEmpty() && random.nextInt(4) == 0) {
                later.remove(random.nextInt(later.size())).run();
            }
        }
        later.forEach(Runnable::run);
        return truck;
    }

    private static void everyOrderTellsTheSame(long seed, int count) {
        List<String> visits = history(seed, count);
        try (Yard one = new Yard(); Yard other = new Yard()) {
            Yard.Truck first = inOrder(one, visits);
            Yard.Truck second = asPaperworkComes(other, visits, seed);

            assertEquals(List.of(), other.ledger().verify((_, _) -> {}), "incremental equals recomputed");
            Stored.Fold kept = first.fold();
            assertArrayEquals(kept.state(), second.fold().state());
            assertArrayEquals(kept.summary(), second.fold().summary());
            assertEquals(first.told(), second.told());
            other.ledger().rebuild((_, _) -> {});
            assertArrayEquals(kept.state(), second.fold().state());
            assertArrayEquals(kept.summary(), second.fold().summary());
            assertTrue(first.trails(Yard.NOW.toString()).size() > 5, "something happened");
        }
    }

    @ParameterizedTest
    @ValueSource(longs = 1)
    void everyOrderOfReceipt_revisedAndWithdrawn_tellsTheSame(long seed) {
        everyOrderTellsTheSame(seed, VISITS);
    }

    @Tag("long")
    @ParameterizedTest
    @ValueSource(longs = {2, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void everyOrderOfReceipt_ofLongerHistories_tellsTheSame(long seed) {
        everyOrderTellsTheSame(seed, 2 * VISITS);
    }

    /** The answer and its reasons stay until {@code validUntil}, and change there where it is below the cap of a day. */
    @ParameterizedTest
    @ValueSource(longs = {3, 4})
    void readiness_holdsUntilItSays_andChangesThere(long seed) {
        try (Yard yard = new Yard()) {
            Yard.Truck truck = inOrder(yard, history(seed, 40));
            int changes = 0;
            Instant at = Yard.NOW;
            for (int step = 0; step < 150; step++) {
                JsonNode answer = truck.readiness(at.toString());
                Instant until = Instant.parse(answer.path("validUntil").asText());

                assertEquals(grounds(answer), grounds(truck.readiness(until.minusSeconds(1).toString())), "before " + until);
                assertEquals(grounds(answer),
                        grounds(truck.readiness(at.plus(Duration.between(at, until).dividedBy(2)).toString())), "half way to " + until);
                assertTrue(until.isAfter(at) && !until.isAfter(at.plus(A_DAY)));
                // The next planned baseline may change any answer; here it is not learned.
                if (until.isBefore(at.plus(A_DAY)) && !until.equals(Yard.NOW.plus(Ledger.BASELINE_EVERY))) {
                    assertNotEquals(grounds(answer), grounds(truck.readiness(until.toString())), "at " + until);
                    changes++;
                }
                at = until;
            }
            assertTrue(changes > 0, "something ends within " + Duration.between(Yard.NOW, at).toDays() + " days");
        }
    }

    private static List<String> grounds(JsonNode answer) {
        List<String> grounds = new ArrayList<>(List.of(answer.path("answer").asText()));
        answer.path("reasons").forEach(reason -> grounds
                .add(reason.path("reason").asText() + reason.path("place").asText() + reason.path("grounds")));
        return grounds;
    }

    private static List<String> holds(JsonNode answer) {
        List<String> holds = new ArrayList<>();
        answer.path("reasons").forEach(reason -> {
            if (reason.path("weight").asText().equals("hold")) {
                holds.add(reason.path("reason").asText() + " " + reason.path("place").asText());
            }
        });
        return holds;
    }

    /**
     * One more visit at which all is well adds no reason to hold. The one rule that may: {@code risk-above-hold}, whose figure follows the usage that
     * the visit's meters show.
     */
    @ParameterizedTest
    @ValueSource(longs = 6)
    void healthyVisit_addsNoHold(long seed) {
        try (Yard yard = new Yard()) {
            int wereReady = 0;
            int lifted = 0;
            for (int unit = 0; unit < 40; unit++) {
                Yard.Truck truck = inOrder(yard, history(seed * 1000 + unit, 3 + unit % 20));
                JsonNode before = truck.readiness(Yard.NOW.toString());
                truck.was("HEALTHY", Yard.visit(Yard.NOW.minusSeconds(7200).toString(), "'releasedAt': '" + Yard.NOW.minusSeconds(3600) + "'",
                        "'lamps': {'redStop': false, 'amberWarning': false, 'malfunction': false, 'protect': false}",
                        Yard.checks(Yard.call("as-found"), Yard.read("as-found", 60.2)),
                        Yard.air(Yard.smoke("as-found"), Yard.flow("as-found", 20))));
                JsonNode after = truck.readiness(Yard.NOW.toString());

                List<String> added = new ArrayList<>(holds(after));
                added.removeAll(holds(before));
                added.removeIf(reason -> reason.startsWith("risk-above-hold"));
                assertEquals(List.of(), added, truck.standing(Yard.NOW.toString()).toString());
                wereReady += before.path("answer").asText().equals("hold") ? 0 : 1;
                lifted += holds(before).size() > holds(after).size() ? 1 : 0;
            }
            assertTrue(wereReady > 3 && lifted > 3, wereReady + " were no hold, " + lifted + " holds were lifted");
        }
    }
}
