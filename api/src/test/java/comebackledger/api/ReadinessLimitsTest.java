package comebackledger.api;

import static comebackledger.api.DispatchStory.air;
import static comebackledger.api.DispatchStory.check;
import static comebackledger.api.DispatchStory.checks;
import static comebackledger.api.DispatchStory.deadShort;
import static comebackledger.api.DispatchStory.heldFlow;
import static comebackledger.api.DispatchStory.odometer;
import static comebackledger.api.DispatchStory.repair;
import static comebackledger.api.DispatchStory.repairs;
import static comebackledger.api.DispatchStory.smoke;
import static comebackledger.api.DispatchStory.stay;
import static comebackledger.readiness.Reason.Kind.AIR_LOSS_ABOVE_LIMIT;
import static comebackledger.readiness.Reason.Kind.DRIFTING;
import static comebackledger.readiness.Reason.Kind.NEVER_SEEN;
import static comebackledger.readiness.Reason.Kind.OPEN_FAULT;
import static comebackledger.readiness.Reason.Kind.RISK_ABOVE_CAUTION;
import static comebackledger.readiness.Reason.Kind.RISK_ABOVE_HOLD;
import static comebackledger.readiness.Reason.Kind.SAFETY_MODULE_SILENT;
import static comebackledger.readiness.Reason.Kind.SAFETY_NETWORK_FAULT;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.briefing.ReadingSeries;
import comebackledger.ledger.RecordedVisit;
import comebackledger.openapi.VisitAnswerMapping;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Reason;
import comebackledger.readiness.Trip;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The limits of RULES 8 that are numbers: exactly at each, and the next number beyond; and what was known at an instant of the past. */
class ReadinessLimitsTest {
    private static final String UNIT = "T-1";
    private static final String START = "2025-01-01T00:00:00Z";
    private static final Instant AT = Instant.parse("2026-03-02T00:00:00Z");

    @TempDir
    static Path folder;

    private static DispatchStory story;

    @BeforeAll
    static void open() {
        story = new DispatchStory(folder);
    }

    @AfterAll
    static void close() {
        story.close();
    }

    /** Each test has a fleet of its own, so that its policy is its own. */
    private static RecordedVisit tell(String fleet, String... visits) {
        story.at(START).unit(fleet, UNIT, DispatchStory.BUILD);
        RecordedVisit last = null;
        for (int i = 0; i < visits.length; i++) {
            last = story.at(DispatchStory.halfAnHourBeforeItsEnd(visits[i])).visit(fleet, UNIT, "WO-" + (i + 1), visits[i]);
        }
        return last;
    }

    private static List<Reason.Kind> asked(String fleet) {
        return kinds(story.at(AT.toString()).ask(fleet, UNIT, AT));
    }

    private static List<Reason.Kind> kinds(ReadinessAnswer answer) {
        return answer.reasons().stream().map(Reason::kind).toList();
    }

    /** Under a policy of one number, and under the next number above it. */
    private static List<List<Reason.Kind>> atAndAbove(String fleet, String policy, double limit) {
        story.at(AT.minusSeconds(60).toString()).policy(fleet, 0, String.format(Locale.ROOT, policy, Double.toString(limit)));
        List<Reason.Kind> at = asked(fleet);
        story.at(AT.minusSeconds(59).toString()).policy(fleet, 1, String.format(Locale.ROOT, policy, Double.toString(Math.nextUp(limit))));
        return List.of(at, asked(fleet));
    }

    /** Above the limit holds, at the limit does not: so one number below the loss does, the loss itself does not. */
    @Test
    void holdLossShare_atTheLimitIsNotAbove() {
        RecordedVisit visit = tell("loss", stay("2026-03-01", air(heldFlow("as-found", 1800))));
        double share = VisitAnswerMapping.toWire(visit).at("/judgements/0/result/atRatedBoost/shareOfEngineAir/value").asDouble();
        assertTrue(share > 0.1 && share < 0.2, String.valueOf(share));

        List<List<Reason.Kind>> told = atAndAbove("loss", "{\"chargeAir\": {\"holdLossShare\": %s}}", Math.nextDown(share));

        assertEquals(List.of(List.of(AIR_LOSS_ABOVE_LIMIT), List.of(OPEN_FAULT)), told);
    }

    /** At least the limit holds: the summed odds themselves do, one number above does not. */
    @Test
    void holdFaultsAt_atTheLimitHolds() {
        RecordedVisit visit = tell("odds", stay("2026-03-01", checks(deadShort("as-found"))));
        double odds = VisitAnswerMapping.toWire(visit).at("/judgements/0/result/suspects/0/probability").asDouble();
        assertEquals("short-to-ground", VisitAnswerMapping.toWire(visit).at("/judgements/0/result/suspects/0/fault").asText());
        assertEquals(odds, odds(visit, "short-to-ground"), "one suspect, so that no sum is rounded");

        List<List<Reason.Kind>> told = atAndAbove("odds",
                "{\"bus\": {\"holdFaultsAt\": %s}, \"readiness\": {\"holdFaults\": [\"short-to-ground\"]}}", odds);

        assertEquals(List.of(List.of(SAFETY_NETWORK_FAULT), List.of(OPEN_FAULT)), told);
    }

    /** A break that leaves every called module answering counts as a missing terminator: it holds a fleet that holds for those, and no other. */
    @Test
    void breakThatLeavesEverybodyAnswering_countsAsAMissingTerminator() {
        String visit = stay("2026-03-01", checks(check("j1939-1", "as-found", "120.6")));
        RecordedVisit recorded = tell("terminators", visit);
        double missing = odds(recorded, "terminator-missing");
        double broken = odds(recorded, "trunk-open");
        assertTrue(missing > 0.1 && broken > 0.1, missing + " " + broken);

        List<List<Reason.Kind>> told = List.of(hold("terminators", 0, "trunk-open", 0.01),
                hold("terminators", 1, "terminator-missing", missing + broken / 2),
                hold("terminators", 2, "terminator-missing", missing + broken + 1e-6));

        assertEquals(List.of(List.of(OPEN_FAULT), List.of(SAFETY_NETWORK_FAULT), List.of(OPEN_FAULT)), told);
    }

    private static double odds(RecordedVisit visit, String fault) {
        double odds = 0;
        for (var suspect : VisitAnswerMapping.toWire(visit).at("/judgements/0/result/suspects")) {
            odds += suspect.path("fault").asText().equals(fault) ? suspect.path("probability").asDouble() : 0;
        }
        return odds;
    }

    private static List<Reason.Kind> hold(String fleet, int follows, String fault, double from) {
        story.at(AT.minusSeconds(60 - follows).toString()).policy(fleet, follows,
                "{\"bus\": {\"holdFaultsAt\": " + from + "}, \"readiness\": {\"holdFaults\": [\"" + fault + "\"]}}");
        return asked(fleet);
    }

    /** A test since the claimed repair, whatever it says: nothing waits to be rechecked any more. */
    @Test
    void lossRepairedAndTestedByEye_isRechecked() {
        tell("rechecked", stay("2026-02-01", air(heldFlow("as-found", 1800))),
                stay("2026-03-01", repairs(repair("charge-air.cooler-core", true)), air(smoke("as-left", "cooler-core"))));

        assertEquals(List.of(OPEN_FAULT, OPEN_FAULT), asked("rechecked"));
    }

    /** At least the limit counts, on both limits of the risk. */
    @Test
    void risk_atTheLimitCounts() {
        tell("risk", stay("2026-02-01", odometer(100_000)), stay("2026-03-01", odometer(112_000)));
        double risk = story.at(AT.minusSeconds(120).toString()).ask("risk", UNIT, AT).risk().orElseThrow().probability();

        story.at(AT.minusSeconds(60).toString()).policy("risk", 0, "{\"readiness\": {\"riskCaution\": " + risk + ", \"riskHold\": " + risk + "}}");
        assertEquals(List.of(RISK_ABOVE_HOLD), asked("risk"));
        story.at(AT.minusSeconds(59).toString()).policy("risk", 1,
                "{\"readiness\": {\"riskCaution\": " + risk + ", \"riskHold\": " + Math.nextUp(risk) + "}}");
        assertEquals(List.of(RISK_ABOVE_CAUTION), asked("risk"));
        story.at(AT.minusSeconds(58).toString()).policy("risk", 2,
                "{\"readiness\": {\"riskCaution\": " + Math.nextUp(risk) + ", \"riskHold\": " + Math.nextUp(risk) + "}}");
        assertEquals(List.of(), asked("risk"));
    }

    /**
     * Five readings 30 days and 9 000 km apart, each 0.35 ohm above the one before. By hand: the line is exact, so the limit L is met
     * (L - last) / 0.35 x 9 000 km after the last; a day later the truck is 300 km nearer.
     */
    @Test
    void drift_countsWhereItsCrossingFallsInsideTheTrip() {
        String[] visits = new String[5];
        Instant first = Instant.parse("2025-11-01T08:00:00Z");
        for (int i = 0; i < visits.length; i++) {
            Instant arrives = first.plusSeconds(30 * 86_400L * i);
            visits[i] = DispatchStory.visit(arrives.toString(), Optional.of(arrives.plusSeconds(3600).toString()), odometer(300_000 + 9_000 * i),
                    checks(check("j1939-1", "as-found", String.format(Locale.ROOT, "%.2f", 60.2 + 0.35 * i))));
        }
        tell("drift", visits);
        Instant at = first.plusSeconds(121 * 86_400L);
        ReadingSeries series = story.ledger().bench().readings("drift", UNIT, Optional.of(at)).orElseThrow().getFirst();
        double last = 60.2 + 0.35 * 4 - 0.2; // the leads, 0.2 ohm unless told, are taken off
        assertEquals(last, series.points().getLast().value(), 1e-9);
        double crossing = 336_000 + (series.high().orElseThrow() - last) / 0.35 * 9_000;
        assertEquals(crossing, series.crossing().orElseThrow().at(), 0.01);
        double ahead = crossing - 336_000 - 300;
        assertTrue(ahead > 5_000 && ahead < 15_000, String.valueOf(ahead));

        assertEquals(List.of(DRIFTING), drifting(at, ahead + 0.5));
        assertEquals(List.of(), drifting(at, ahead - 0.5));
        assertEquals(List.of(DRIFTING), drifting(at.plusSeconds(86_400), ahead - 299.5));
    }

    private static List<Reason.Kind> drifting(Instant at, double km) {
        return kinds(story.at(at.toString()).ask("drift", UNIT, at, new Trip(OptionalDouble.of(km), OptionalDouble.empty())).orElseThrow()).stream()
                .filter(kind -> kind == DRIFTING).toList();
    }

    /** What was received, recorded as a build, or set as a policy after an instant was not known then; nobody rewrites what dispatch was told. */
    @Test
    void past_isAnsweredAsItWasKnown() {
        tell("past");
        story.at("2026-03-10T00:00:00Z").visit("past", UNIT, "LATE", stay("2026-03-01", checks(check("j1939-1", "as-found", "60.3", "brakes"))));
        story.at("2026-03-12T00:00:00Z").unit("past", UNIT, DispatchStory.BUILD.replace(", \"safety\": true}]}", "}]}"));
        story.at("2026-03-14T00:00:00Z").policy("past", 0, "{\"evidenceMaxAgeDays\": 5}");
        story.at("2026-04-01T00:00:00Z");

        assertEquals(List.of(NEVER_SEEN), past("2026-03-09T23:59:59Z"));
        assertEquals(List.of(SAFETY_MODULE_SILENT), past("2026-03-10T00:00:00Z"));
        assertEquals(List.of(SAFETY_MODULE_SILENT), past("2026-03-11T23:59:59Z"));
        assertEquals(List.of(OPEN_FAULT), past("2026-03-12T00:00:00Z"));
        assertEquals(List.of(OPEN_FAULT), past("2026-03-13T23:59:59Z"));
        assertEquals(List.of(Reason.Kind.EVIDENCE_TOO_OLD, OPEN_FAULT), past("2026-03-14T00:00:00Z"));
    }

    private static List<Reason.Kind> past(String at) {
        return kinds(story.ask("past", UNIT, Instant.parse(at)));
    }

    /** The release of a visit, the age of the evidence, the end of a window: each answer says to the second when it changes. */
    @Test
    void validUntil_isTheSecondOfTheChange() {
        tell("until", stay("2026-03-01", repairs(repair("network.j1939-1.engine", true))));

        assertEquals(Instant.parse("2026-03-01T16:00:00Z"), until("2026-03-01T15:30:00Z"), "its release");
        assertEquals(Instant.parse("2026-05-30T16:00:01Z"), until("2026-05-30T09:00:00Z"), "the end of the repeat window");
        assertEquals(Instant.parse("2026-08-28T08:00:01Z"), until("2026-08-28T00:00:00Z"), "the age of the evidence");
        assertEquals(Instant.parse("2026-03-04T00:00:00Z"), until("2026-03-03T00:00:00Z"), "a day ahead at most");
    }

    /** Asked when it is so: a baseline that is learned at once would be planned again after just a day. */
    private static Instant until(String at) {
        return story.at(at).ask("until", UNIT, Instant.parse(at)).validUntil();
    }
}
