package comebackledger.trail;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.judge.SuspectFact;
import comebackledger.judge.Verdict;
import comebackledger.policy.Policy;
import comebackledger.unit.Unit;
import comebackledger.visit.CodeStatus;
import comebackledger.visit.Stage;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** The rules of trails and episodes, each told as a story of visits. Expectations are the project's own rules. */
class FoldTest {
    private static final String TERMINATOR = VisitStory.SYSTEM + ".terminator-b";
    private static final String TRUNK = VisitStory.SYSTEM + ".trunk";
    private static final String BRAKES = VisitStory.SYSTEM + ".brakes";

    private static UnitView view(String at, VisitStory... visits) {
        return UnitView.of(Fold.of(Arrays.stream(visits).map(VisitStory::facts).toList(), Policy.DEFAULT), Policy.DEFAULT, Instant.parse(at));
    }

    private static Trail trail(UnitView view, String place) {
        return view.trails().stream().filter(trail -> trail.place().toString().equals(place)).findFirst().orElseThrow();
    }

    private static List<Flag.Kind> flags(Trail trail) {
        return trail.flags().stream().map(Flag::kind).toList();
    }

    private static VisitStory visit(String id, String arrivedAt) {
        return new VisitStory(id, arrivedAt);
    }

    private static VisitStory found(String id, String arrivedAt) {
        return visit(id, arrivedAt).terminatorFault(Stage.AS_FOUND);
    }

    private static VisitStory repaired(String id, String arrivedAt) {
        return found(id, arrivedAt).repair(TERMINATOR, true);
    }

    @Test
    void episode_whenFoundAgainBeforeRepair_isOne() {
        UnitView view = view("2026-02-10T00:00:00Z", found("A", "2026-01-01T08:00:00Z"), found("B", "2026-02-01T08:00:00Z"));

        Trail trail = trail(view, TERMINATOR);

        assertEquals(Trail.State.OPEN, trail.state());
        assertEquals(1, trail.episodes().size());
    }

    @Test
    void repair_whenUnreleased_closesNothing() {
        UnitView view = view("2026-01-02T00:00:00Z", repaired("A", "2026-01-01T08:00:00Z").released(""));

        assertEquals(Trail.State.OPEN, trail(view, TERMINATOR).state());
    }

    @Test
    void repair_beforeItsRelease_hasNotHappened() {
        VisitStory story = repaired("A", "2026-01-01T08:00:00Z").released("2026-01-03T08:00:00Z");

        assertEquals(Trail.State.OPEN, trail(view("2026-01-02T00:00:00Z", story), TERMINATOR).state());
        assertEquals(Trail.State.REPAIRED_UNPROVEN, trail(view("2026-01-03T08:00:00Z", story), TERMINATOR).state());
    }

    /** A work order with one time for both: what was found there was found before it was repaired there. */
    @Test
    void visit_releasedAsItArrived_isNoReturnAfterItsOwnRepair() {
        UnitView view = view("2026-06-01T00:00:00Z", repaired("A", "2026-01-01T08:00:00Z").released("2026-01-01T08:00:00Z"),
                repaired("B", "2026-02-01T08:00:00Z").released("2026-02-01T08:00:00Z"));

        Trail trail = trail(view, TERMINATOR);

        assertEquals(List.of(false, true), trail.episodes().stream().map(Episode::comeback).toList());
        assertEquals(Optional.of("A"), trail.episodes().getLast().after());
        assertEquals(List.of(Optional.of(Instant.parse("2026-02-01T08:00:00Z")), Optional.empty()),
                UnitSummary.of(Unit.of("T-1"), view).repairs().stream().map(UnitSummary.Mended::nextEpisodeAt).toList());
    }

    @Test
    void visit_releasedAsItArrived_provesNoRepairByWhatWasFound() {
        VisitStory tested = visit("B", "2026-02-01T08:00:00Z").released("2026-02-01T08:00:00Z").passes(Stage.AS_FOUND);
        VisitStory again = visit("B", "2026-02-01T08:00:00Z").released("2026-02-01T08:00:00Z").passes(Stage.AS_FOUND).repair(TERMINATOR, true);
        VisitStory unclaimed = visit("B", "2026-02-01T08:00:00Z").released("2026-02-01T08:00:00Z").passes(Stage.AS_FOUND).repair(TERMINATOR, false);

        assertEquals(Trail.State.PROVEN, trail(view("2026-03-01T00:00:00Z", repaired("A", "2026-01-01T08:00:00Z"), unclaimed), TERMINATOR).state());
        assertEquals(Trail.State.PROVEN, trail(view("2026-03-01T00:00:00Z", repaired("A", "2026-01-01T08:00:00Z"), tested), TERMINATOR).state());
        assertEquals(Trail.State.REPAIRED_UNPROVEN,
                trail(view("2026-03-01T00:00:00Z", repaired("A", "2026-01-01T08:00:00Z"), again), TERMINATOR).state());
    }

    @Test
    void repair_whenAsLeftPasses_isProven() {
        Trail trail = trail(view("2026-01-02T00:00:00Z", repaired("A", "2026-01-01T08:00:00Z").passes(Stage.AS_LEFT)), TERMINATOR);

        assertEquals(Trail.State.PROVEN, trail.state());
        assertEquals(List.of(), flags(trail));
    }

    @Test
    void repair_whenAsLeftFails_isKeptAsAttempt() {
        Trail trail = trail(view("2026-01-02T00:00:00Z", repaired("A", "2026-01-01T08:00:00Z").terminatorFault(Stage.AS_LEFT)), TERMINATOR);

        assertEquals(Trail.State.OPEN, trail.state());
        assertEquals(List.of("A"), trail.episodes().getFirst().failedAtBench());
    }

    @Test
    void unprovenFix_standsToTheSecondOfTheWindow() {
        VisitStory story = repaired("A", "2026-01-01T08:00:00Z").released("2026-01-01T16:00:00Z");

        Trail atLimit = trail(view("2026-04-01T16:00:00Z", story), TERMINATOR);
        Trail after = trail(view("2026-04-01T16:00:01Z", story), TERMINATOR);

        assertEquals(List.of(Flag.Kind.UNPROVEN_FIX), flags(atLimit));
        assertEquals(Optional.of(Instant.parse("2026-04-01T16:00:00Z")), atLimit.flags().getFirst().expiresAt());
        assertEquals(List.of(), flags(after));
        assertEquals(Trail.State.REPAIRED_UNPROVEN, after.state());
    }

    @Test
    void unprovenFix_endsWithAMeterReadAtAVisit() {
        VisitStory repair = repaired("A", "2026-01-01T08:00:00Z").km(100_000);

        assertEquals(List.of(Flag.Kind.UNPROVEN_FIX),
                flags(trail(view("2026-02-02T00:00:00Z", repair, visit("B", "2026-02-01T00:00:00Z").km(116_000)), TERMINATOR)));
        assertEquals(List.of(), flags(trail(view("2026-02-02T00:00:00Z", repair, visit("B", "2026-02-01T00:00:00Z").km(116_001)), TERMINATOR)));
    }

    @Test
    void comeback_insideTheWindow_standsUntilProofAndWindowEnd() {
        VisitStory first = repaired("A", "2026-01-01T08:00:00Z").passes(Stage.AS_LEFT);
        VisitStory again = repaired("B", "2026-02-01T08:00:00Z").passes(Stage.AS_LEFT).released("2026-02-01T16:00:00Z");

        Trail inside = trail(view("2026-05-02T16:00:00Z", first, again), TERMINATOR);
        Trail after = trail(view("2026-05-02T16:00:01Z", first, again), TERMINATOR);

        assertTrue(inside.episodes().get(1).comeback());
        assertEquals(Optional.of("A"), inside.episodes().get(1).after());
        assertEquals(List.of(Flag.Kind.COMEBACK), flags(inside));
        assertEquals(List.of("A", "B"), inside.flags().getFirst().grounds());
        assertEquals(List.of(), flags(after));
    }

    @Test
    void moving_whenTheFaultOpensElsewhereInTheSystem() {
        VisitStory first = repaired("A", "2026-01-01T08:00:00Z");
        VisitStory elsewhere = visit("B", "2026-02-01T08:00:00Z").check(Stage.AS_FOUND, Verdict.WITHIN, List.of("engine"), List.of("brakes"));

        Trail trail = trail(view("2026-02-02T00:00:00Z", first, elsewhere), BRAKES);

        assertTrue(trail.episodes().getFirst().moving());
        assertFalse(trail.episodes().getFirst().comeback());
        assertEquals(List.of(Flag.Kind.MOVING), flags(trail));
    }

    @Test
    void moving_afterAPreventiveRepair_doesNotHold() {
        VisitStory preventive = visit("A", "2026-01-01T08:00:00Z").repair(TERMINATOR, true);
        VisitStory elsewhere = visit("B", "2026-02-01T08:00:00Z").check(Stage.AS_FOUND, Verdict.WITHIN, List.of("engine"), List.of("brakes"));
        VisitStory same = found("C", "2026-02-02T08:00:00Z");

        UnitView view = view("2026-02-03T00:00:00Z", preventive, elsewhere, same);

        assertFalse(trail(view, BRAKES).episodes().getFirst().moving());
        assertTrue(trail(view, TERMINATOR).episodes().getFirst().comeback(), "a preventive repair starts a repeat window too");
    }

    @Test
    void claimedRepair_namesTheCause() {
        VisitStory story = visit("A", "2026-01-01T08:00:00Z").active("U0121", "brakes", "engine").repair(TERMINATOR, true);

        UnitView view = view("2026-01-02T00:00:00Z", story);

        assertEquals(List.of(TERMINATOR), view.trails().stream().map(trail -> trail.place().toString()).toList());
        assertEquals(List.of(BRAKES), trail(view, TERMINATOR).episodes().getFirst().accusedPlaces());
    }

    @Test
    void claimedRepair_closesTheInferredPlacesOfItsSystem() {
        VisitStory trunk = visit("A", "2026-01-01T08:00:00Z").check(Stage.AS_FOUND, Verdict.OUTSIDE, List.of("engine"), List.of());
        VisitStory repair = visit("B", "2026-01-05T08:00:00Z").repair(TERMINATOR, true);

        UnitView view = view("2026-01-06T00:00:00Z", trunk, repair);

        assertEquals(Trail.State.REPAIRED_UNPROVEN, trail(view, TRUNK).state());
    }

    @Test
    void noFaultFound_isAnEpisodeOfItsOwnKind() {
        VisitStory first = visit("A", "2026-01-01T08:00:00Z").active("U0121", "brakes", "engine").passes(Stage.AS_FOUND);
        VisitStory second = visit("B", "2026-02-01T08:00:00Z").active("U0121", "brakes", "engine").passes(Stage.AS_FOUND);

        Trail trail = trail(view("2026-02-02T00:00:00Z", first, second), BRAKES);

        assertEquals(Trail.State.NO_FAULT_FOUND, trail.state());
        assertEquals(2, trail.episodes().size());
        assertEquals(List.of(Flag.Kind.NO_FAULT_FOUND), flags(trail));
    }

    @Test
    void suspicion_fallsQuietAfterItsWindow_andAConfirmedFaultDoesNot() {
        VisitStory suspected = visit("A", "2026-01-01T00:00:00Z").active("U0121", "brakes", "engine");
        VisitStory confirmed = visit("A", "2026-01-01T00:00:00Z").terminatorFault(Stage.AS_FOUND);

        assertEquals(Trail.State.SUSPECTED, trail(view("2026-06-30T00:00:00Z", suspected), BRAKES).state());
        assertEquals(Trail.State.QUIET, trail(view("2026-06-30T00:00:01Z", suspected), BRAKES).state());
        assertEquals(Trail.State.OPEN, trail(view("2027-06-30T00:00:01Z", confirmed), TERMINATOR).state());
    }

    @Test
    void suspicion_seenAgainAfterTheQuietWindow_isANewEpisode() {
        VisitStory first = visit("A", "2026-01-01T00:00:00Z").active("U0121", "brakes", "engine");

        assertEquals(1, trail(view("2026-07-02T00:00:00Z", first, visit("B", "2026-06-30T00:00:00Z").active("U0121", "brakes", "engine")), BRAKES)
                .episodes().size(), "exactly at the window it is the same episode");
        assertEquals(2, trail(view("2026-07-02T00:00:00Z", first, visit("B", "2026-06-30T00:00:01Z").active("U0121", "brakes", "engine")), BRAKES)
                .episodes().size());
    }

    @Test
    void confirmedFault_endsQuiet_whenALaterTestRepeatsTheEvidenceAndPasses() {
        VisitStory silent = visit("A", "2026-01-01T00:00:00Z").check(Stage.AS_FOUND, Verdict.WITHIN, List.of("engine"), List.of("brakes"));
        VisitStory readingOnly = visit("B", "2026-02-01T00:00:00Z").check(Stage.AS_FOUND, Verdict.WITHIN, List.of("engine"), List.of());
        VisitStory called = visit("C", "2026-03-01T00:00:00Z").passes(Stage.AS_FOUND);

        assertEquals(Trail.State.OPEN, trail(view("2026-02-02T00:00:00Z", silent, readingOnly), BRAKES).state());
        assertEquals(Trail.State.QUIET, trail(view("2026-03-02T00:00:00Z", silent, readingOnly, called), BRAKES).state());
    }

    @Test
    void occurrence_beforeTheRepairingVisitIsReleased_belongsToTheClosedEpisode() {
        VisitStory repair = repaired("A", "2026-01-01T08:00:00Z").released("2026-01-10T08:00:00Z");
        VisitStory between = found("B", "2026-01-05T08:00:00Z");

        Trail trail = trail(view("2026-01-11T00:00:00Z", repair, between), TERMINATOR);

        assertEquals(1, trail.episodes().size());
        assertEquals(Trail.State.REPAIRED_UNPROVEN, trail.state());
    }

    @Test
    void codes_countOnlyWhenTheyAreNews() {
        VisitStory history = visit("A", "2026-01-01T00:00:00Z").code("U0121", "brakes", "engine", CodeStatus.STORED, 3, false);
        VisitStory same = visit("B", "2026-01-02T00:00:00Z").code("U0121", "brakes", "engine", CodeStatus.STORED, 3, false);
        VisitStory risen = visit("C", "2026-01-03T00:00:00Z").code("U0121", "brakes", "engine", CodeStatus.STORED, 4, false);
        VisitStory ours = visit("D", "2026-01-03T00:00:00Z").code("U0121", "brakes", "engine", CodeStatus.ACTIVE, 9, true);

        assertEquals(List.of(), view("2026-01-04T00:00:00Z", history, same, ours).trails());
        assertEquals(Trail.State.SUSPECTED, trail(view("2026-01-04T00:00:00Z", history, same, risen), BRAKES).state());
    }

    @Test
    void codes_afterAClearing_countFromNothing() {
        VisitStory cleared = visit("A", "2026-01-01T00:00:00Z").code("U0121", "brakes", "engine", CodeStatus.STORED, 3, false).clearedCodes();
        VisitStory stored = visit("B", "2026-01-02T00:00:00Z").code("U0121", "brakes", "engine", CodeStatus.STORED, -1, false);
        VisitStory stillStored = visit("C", "2026-09-03T00:00:00Z").code("U0121", "brakes", "engine", CodeStatus.STORED, -1, false);

        Trail trail = trail(view("2026-09-04T00:00:00Z", cleared, stored, stillStored), BRAKES);

        assertEquals(List.of("B"), trail.episodes().stream().map(Episode::openedBy).toList(), "seen once since the clearing it is history again");
    }

    @Test
    void lowSupply_makesOneOccurrenceAtTheSupply() {
        VisitStory story = visit("A", "2026-01-01T00:00:00Z").active("U0121", "brakes", "engine").supply(9.4, true);

        assertEquals(List.of("supply.vehicle"),
                view("2026-01-02T00:00:00Z", story).trails().stream().map(trail -> trail.place().toString()).toList());
    }

    @Test
    void bareSystemRepair_closesAllOfThatSystem() {
        VisitStory both = visit("A", "2026-01-01T00:00:00Z").air(Stage.AS_FOUND, Verdict.OUTSIDE, 0.05, "cooler-core", "cooler-inlet-boot");
        VisitStory repair = visit("B", "2026-01-02T00:00:00Z").repair("charge-air", true);
        VisitStory again = visit("C", "2026-01-20T00:00:00Z").air(Stage.AS_FOUND, Verdict.OUTSIDE, 0.05, "cooler-core");

        UnitView view = view("2026-01-21T00:00:00Z", both, repair, again);

        assertEquals(Trail.State.REPAIRED_UNPROVEN, trail(view, "charge-air.cooler-inlet-boot").state());
        assertTrue(trail(view, "charge-air.cooler-core").episodes().get(1).comeback());
    }

    @Test
    void step_byStep_equalsTheFold() {
        List<VisitStory> stories = List.of(repaired("A", "2026-01-01T08:00:00Z").km(1000), found("B", "2026-02-01T08:00:00Z").km(9000),
                visit("C", "2026-03-01T08:00:00Z").passes(Stage.AS_FOUND).km(11_000));

        UnitState state = UnitState.EMPTY;
        for (VisitStory story : stories) {
            state = Fold.step(state, story.facts(), Policy.DEFAULT);
        }

        assertEquals(Fold.of(stories.stream().map(VisitStory::facts).toList(), Policy.DEFAULT), state);
    }

    @Test
    void oneModuleAccusingAllOthers_isItselfTheSuspect() {
        VisitStory story = visit("A", "2026-01-01T08:00:00Z").active("U0100", "engine", "brakes").active("U0101", "transmission", "brakes");

        assertEquals(List.of(BRAKES), view("2026-01-02T00:00:00Z", story).trails().stream().map(trail -> trail.place().toString()).toList());
    }

    @Test
    void place_isTheBusChecksFirstSuspectOnlyWhenItIsSureEnough() {
        VisitStory unsure = visit("A", "2026-01-01T08:00:00Z").check(Stage.AS_FOUND, Verdict.OUTSIDE, List.of("engine"), List.of(),
                new SuspectFact("terminator-missing", Optional.of("terminator-b"), List.of(), 0.59));

        assertEquals(Trail.State.OPEN, trail(view("2026-01-02T00:00:00Z", unsure), TRUNK).state());
    }
}
