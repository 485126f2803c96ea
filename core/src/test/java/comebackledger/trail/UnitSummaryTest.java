package comebackledger.trail;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.judge.VisitFacts;
import comebackledger.policy.Policy;
import comebackledger.unit.Build;
import comebackledger.unit.Unit;
import comebackledger.visit.Stage;
import java.time.Instant;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

class UnitSummaryTest {
    private static final long SEED = 20261130;
    private static final Instant START = Instant.parse("2024-01-01T00:00:00Z");

    /** A row that runs on from the one before is the row of the whole state, whatever the meters showed: slips, replacements, visits at one instant. */
    @Test
    void runOn_isTheRowOfTheWhole() {
        Unit unit = new Unit("T-1", Optional.empty(), Optional.empty(), Optional.empty(), new TreeMap<>(), Build.UNKNOWN);
        int ranOn = 0;
        int visits = 0;
        int afterSlip = 0;
        for (int i = 0; i < 300; i++) {
            SplittableRandom random = new SplittableRandom(SEED + i);
            UnitState state = UnitState.EMPTY;
            UnitSummary row = UnitSummary.of(unit, state, Policy.DEFAULT);
            Instant at = START;
            for (int visit = 0; visit < 40; visit++) {
                at = random.nextInt(8) == 0 ? at : at.plusSeconds(86_400L * random.nextInt(1, 20));
                UnitState after = Fold.step(state, visit(random, "V-" + (100 + visit), at), Policy.DEFAULT);
                UnitSummary whole = UnitSummary.of(unit, after, Policy.DEFAULT);

                Optional<UnitSummary> on = row.runOn(state, after);

                on.ifPresent(next -> assertEquals(whole, next));
                ranOn += on.isPresent() ? 1 : 0;
                afterSlip += on.isPresent() && !new UnitMeters(after).km().leftOut().isEmpty() ? 1 : 0;
                visits++;
                state = after;
                row = whole;
            }
        }
        assertTrue(ranOn > visits / 5, ranOn + " of " + visits);
        assertTrue(afterSlip > visits / 20, "also after a reading that was left out: " + afterSlip + " of " + visits);
    }

    private static VisitFacts visit(SplittableRandom random, String name, Instant at) {
        VisitStory story = new VisitStory(name, at.toString());
        double days = (at.getEpochSecond() - START.getEpochSecond()) / 86_400.0;
        if (random.nextInt(5) > 0) {
            double shown = random.nextInt(12) == 0 ? random.nextInt(100_000) : 100_000 + Math.floor(days * 300) / 10;
            story = random.nextInt(30) == 0 ? story.newOdometer(random.nextInt(50) / 10.0, shown) : story.km(shown);
        }
        story = random.nextInt(3) > 0 ? story.hours(random.nextInt(15) == 0 ? 7 : 1000 + days * 6.1) : story;
        return switch (random.nextInt(8)) {
            case 0 -> story.terminatorFault(Stage.AS_FOUND).facts();
            case 1 -> story.terminatorFault(Stage.AS_FOUND).repair("network.j1939-1.terminator-b", true).passes(Stage.AS_LEFT).facts();
            case 2 -> story.passes(Stage.AS_FOUND).facts();
            default -> story.facts();
        };
    }
}
