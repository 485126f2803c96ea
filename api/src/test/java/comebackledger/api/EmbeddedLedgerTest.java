package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Outcome;
import comebackledger.ledger.RecordedVisit;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.ReadinessMapping;
import comebackledger.openapi.TrailMapping;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitAnswerMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.Answer;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Reason;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The ledger in a host's own JVM, over real H2 files: no HTTP on the way. */
class EmbeddedLedgerTest {
    private static final Caller HOST = new Caller("default", "host");
    private static final String UNIT = """
            {"group": "linehaul", "build": {"supplyVolts": 12, "networks": [{"name": "j1939-1", "safety": true, "trunkMetres": 18.0,
             "wireOhmPerMetre": 0.021, "nodes": [{"module": "engine", "address": 0, "atMetres": 1.0}, {"module": "transmission", "address": 3, "atMetres": 4.0},
             {"module": "brakes", "address": 11, "atMetres": 15.5, "safety": true}], "connector": {"atMetres": 8.0}}]}}
            """;
    private static final String CALL = "\"rollCall\": {\"answered\": [\"engine\", \"transmission\", \"brakes\"], \"silent\": []}";

    @TempDir
    Path folder;

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static String check(String stage, double ohm) {
        return "{\"network\": \"j1939-1\", \"stage\": \"" + stage + "\", \"power\": \"off\", \"highLow\": {\"value\": " + ohm
                + ", \"unit\": \"ohm\"}, " + CALL + "}";
    }

    private static String visit(String arrived, String released, double km, String more) {
        return "{\"arrivedAt\": \"" + arrived + "\", \"releasedAt\": \"" + released + "\", \"meters\": {\"odometer\": {\"value\": " + km
                + ", \"unit\": \"km\"}}" + (more.isEmpty() ? "" : ", ") + more + "}";
    }

    private static final String REPAIR = "\"repairs\": [{\"place\": \"network.j1939-1.terminator-b\", \"action\": \"replaced\", \"claimsFixed\": true}]";

    private static final List<String[]> STORY = List.of(
            new String[]{"WO-1", visit("2026-01-05T08:00:00Z", "2026-01-05T16:00:00Z", 400_000,
                    "\"busChecks\": [" + check("as-found", 121.4) + ", " + check("as-left", 60.4) + "], " + REPAIR)},
            new String[]{"WO-2", visit("2026-02-01T08:00:00Z", "2026-02-01T10:00:00Z", 408_000, "")},
            new String[]{"WO-3", visit("2026-03-01T08:00:00Z", "2026-03-01T16:00:00Z", 412_000,
                    "\"busChecks\": [" + check("as-found", 121.0) + "], " + REPAIR)});

    private Ledger ledger(JdbcStore store, Instant now) {
        return new Ledger(store, new LedgerCodec(), () -> now, (_, _, _, _) -> {});
    }

    private static Outcome<RecordedVisit> put(Ledger ledger, String[] story) {
        return ledger.putVisit(HOST, "T-1", VisitMapping.toCore(story[0], bytes(story[1]), ledger.now()), OptionalInt.empty());
    }

    private static List<Reason.Kind> reasons(ReadinessAnswer answer) {
        return answer.reasons().stream().map(Reason::kind).toList();
    }

    @Test
    void story_isToldTheSameInEveryOrder_andSurvivesARestart() {
        Instant now = Instant.parse("2026-03-02T00:00:00Z");
        List<String> told = new ArrayList<>();
        for (int order = 0; order < 4; order++) {
            List<String[]> shuffled = new ArrayList<>(STORY);
            Collections.shuffle(shuffled, new Random(order));
            Path data = folder.resolve("order-" + order);
            try (JdbcStore store = JdbcStore.embedded(data)) {
                Ledger ledger = ledger(store, now);
                ledger.putUnit(HOST, UnitMapping.toCore("T-1", bytes(UNIT)));
                shuffled.forEach(one -> assertInstanceOf(Outcome.Created.class, put(ledger, one)));
            }
            try (JdbcStore store = JdbcStore.embedded(data)) {
                Ledger ledger = ledger(store, now);
                told.add(TrailMapping.standing(ledger.standing("default", "T-1", Optional.of(now)).orElseThrow()).toPrettyString());
                assertEquals(List.of(), ledger.verify((_, _) -> {}));
            }
        }

        assertEquals(1, told.stream().distinct().count());
        assertTrue(told.getFirst().contains("\"comeback\" : true"), told.getFirst());
    }

    @Test
    void readiness_followsTheStory() {
        try (JdbcStore store = JdbcStore.embedded(folder.resolve("ready"))) {
            Ledger ledger = ledger(store, Instant.parse("2026-03-02T00:00:00Z"));
            ledger.putUnit(HOST, UnitMapping.toCore("T-1", bytes(UNIT)));
            assertEquals(List.of(Reason.Kind.NEVER_SEEN), reasons(ask(ledger, "2026-03-02T00:00:00Z")));
            STORY.forEach(one -> put(ledger, one));

            ReadinessAnswer soon = ask(ledger, "2026-03-02T00:00:00Z");
            ReadinessAnswer late = ask(ledger, "2026-08-29T00:00:00Z");

            assertEquals(Answer.CAUTION, soon.answer());
            assertEquals(List.of(Reason.Kind.COMEBACK, Reason.Kind.UNPROVEN_FIX), reasons(soon));
            assertEquals(Answer.UNKNOWN, late.answer(), ReadinessMapping.toWire(late).toPrettyString());
        }
    }

    private static ReadinessAnswer ask(Ledger ledger, String at) {
        return ledger.dispatch().readiness("default", new DispatchDesk.Question("T-1", Trip.STANDARD), Optional.of(Instant.parse(at))).orElseThrow();
    }

    @Test
    void visit_answersAtTheBench() {
        try (JdbcStore store = JdbcStore.embedded(folder.resolve("bench"))) {
            Ledger ledger = ledger(store, Instant.parse("2026-03-02T00:00:00Z"));
            ledger.putUnit(HOST, UnitMapping.toCore("T-1", bytes(UNIT)));

            Outcome<RecordedVisit> outcome = put(ledger, STORY.getFirst());

            RecordedVisit recorded = assertInstanceOf(Outcome.Created.class, outcome).answer() instanceof RecordedVisit answer ? answer : null;
            String wire = VisitAnswerMapping.toWire(java.util.Objects.requireNonNull(recorded)).toPrettyString();
            assertTrue(wire.contains("\"place\" : \"network.j1939-1.terminator-b\""), wire);
            assertTrue(wire.contains("\"terminatorsSeen\" : 1"), wire);
        }
    }
}
