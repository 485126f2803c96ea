package comebackledger.openapi;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.baseline.Taught;
import comebackledger.judge.CodeMemory;
import comebackledger.judge.CountedCode;
import comebackledger.judge.JudgedVisit;
import comebackledger.judge.Occurrences;
import comebackledger.judge.VisitFacts;
import comebackledger.judge.VisitJudge;
import comebackledger.ledger.Evidence;
import comebackledger.ledger.RecordedVisit;
import comebackledger.ledger.Standing;
import comebackledger.policy.Policy;
import comebackledger.readiness.Readiness;
import comebackledger.readiness.Trip;
import comebackledger.trail.Fold;
import comebackledger.trail.UnitState;
import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import comebackledger.visit.Visit;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * From bodies to answers: what the mappings take, the judges, the fold and the answers can bear; every answer is one the contract shows, and
 * every derived row comes back from its bytes as it was.
 */
class WholeWayTest {
    private static final long SEED = 51_104L;
    private static final Instant NOW = Instant.parse("2026-11-25T12:00:00Z");
    private static final LedgerCodec CODEC = new LedgerCodec();
    private static final List<JsonNode> UNITS = bodies("UnitBody");
    private static final List<JsonNode> VISITS = bodies("VisitBody");
    private static final List<JsonNode> POLICIES = bodies("PolicyBody");

    private static List<JsonNode> bodies(String schema) {
        return Contract.requests().filter(example -> example.schema().equals(schema)).map(Contract.Example::value).toList();
    }

    @Test
    void examples_goTheWholeWay() {
        for (JsonNode unit : UNITS) {
            for (JsonNode visit : VISITS) {
                for (JsonNode policy : POLICIES) {
                    assertTrue(goes(unit, visit, policy), () -> visit.toString());
                }
            }
        }
    }

    @Test
    void mutants_eitherAreRefusedOrGoTheWholeWay() {
        mutants(250);
    }

    @Test
    @Tag("long")
    void mutants_manyMore() {
        mutants(20_000);
    }

    private static void mutants(int rounds) {
        SplittableRandom random = new SplittableRandom(SEED);
        int taken = 0;
        for (int i = 0; i < rounds; i++) {
            JsonNode unit = random.nextBoolean() ? UNITS.getFirst() : Mutation.of(UNITS.getFirst(), random);
            JsonNode visit = Mutation.of(VISITS.get(i % 2 == 0 ? 0 : random.nextInt(VISITS.size())), random);
            JsonNode policy = random.nextBoolean() ? POLICIES.getFirst() : Mutation.of(POLICIES.getFirst(), random);
            taken += goes(unit, visit, policy) ? 1 : 0;
        }
        assertTrue(taken > rounds / 10, "seed " + SEED + ": only " + taken + " of " + rounds + " bodies were good");
    }

    private static boolean goes(JsonNode unitBody, JsonNode visitBody, JsonNode policyBody) {
        String shown = "seed " + SEED + ": " + unitBody + "\n" + visitBody + "\n" + policyBody;
        Unit unit;
        Evidence<Visit> visit;
        Policy policy;
        try {
            unit = UnitMapping.toCore("T-104", Json.bytes(unitBody)).decoded();
            visit = VisitMapping.toCore("WO-1001", Json.bytes(visitBody), NOW);
            policy = PolicyMapping.toCore(Json.bytes(policyBody)).decoded();
        } catch (Problem problem) {
            return false;
        }
        try {
            go(unit, visit, policy);
        } catch (RuntimeException e) {
            throw new AssertionError(shown, e);
        } catch (AssertionError e) {
            throw new AssertionError(e.getMessage() + "\n" + shown, e);
        }
        return true;
    }

    private static void go(Unit unit, Evidence<Visit> evidence, Policy policy) {
        JudgedVisit judged = VisitJudge.judge(unit, evidence.decoded(), policy);
        Occurrences.Of found = Occurrences.of(judged.facts(), CodeMemory.NONE, policy.bus().namePlaceAt());
        List<CountedCode> codes = judged.facts().codes().stream().map(code -> new CountedCode(code, found.counting().contains(code))).toList();
        UnitState state = Fold.step(UnitState.EMPTY, judged.facts(), policy);
        UnitView view = UnitView.of(state, policy, NOW);
        RecordedVisit recorded = new RecordedVisit(unit.id(), "WO-1001", 1, NOW, false, evidence.document(), judged.tests(), codes,
                found.occurrences(), judged.warnings(), Optional.of(new Standing(unit, NOW, () -> view)));

        assertShown("VisitAnswer", VisitAnswerMapping.toWire(recorded));
        assertShown("Readiness",
                ReadinessMapping
                        .toWire(Readiness.of(unit.id(), unit::build, Taught.of(unit, view, Optional.empty()), 1, List.of()).answer(Trip.STANDARD)));
        assertComesBack(judged.facts(), VisitFacts.class);
        assertComesBack(state, UnitState.class);
        assertEquals(state, Fold.step(UnitState.EMPTY, CODEC.decode(CODEC.encode(judged.facts()), VisitFacts.class), policy));
    }

    private static void assertShown(String schema, JsonNode answer) {
        assertEquals(List.of(), Contract.faultsOfClosed(schema, Contract.json(answer.toString())));
    }

    private static <T> void assertComesBack(T derived, Class<T> type) {
        byte[] bytes = CODEC.encode(derived);
        T back = CODEC.decode(bytes, type);
        assertEquals(derived, back);
        assertArrayEquals(bytes, CODEC.encode(back));
    }
}
