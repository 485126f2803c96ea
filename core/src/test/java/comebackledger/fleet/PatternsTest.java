package comebackledger.fleet;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

class PatternsTest {
    private static final FleetQuestion NOW = new FleetQuestion(Optional.empty(), Optional.empty(), SimulatedFleet.AT);
    /** No bad actors, so that the simulated harness fails three times as often. */
    private static final SimulatedFleet.Law TAGGED = new SimulatedFleet.Law(800, 3, 1.5, 0, 1, 0.35, 0.1);

    /** Equal distances, 1 episode each of two tractors and none but one of two trailers: 2/2 against 1/2 by hand. */
    @Test
    void rateRatio_isOfEpisodesPerDistance() {
        Patterns patterns = Patterns.of(Row.rows(new Row("A").tag("body", "tractor").visit(0, 0).fresh(5).visit(100, 1000),
                new Row("B").tag("body", "tractor").visit(0, 0).fresh(6).visit(100, 1000),
                new Row("C").tag("body", "van").visit(0, 0).fresh(7).visit(100, 1000),
                new Row("D").visit(0, 0).visit(100, 1000)), Row.at(100));

        Patterns.Item item = patterns.items().getFirst();
        assertEquals(1, patterns.items().size(), "a tag of one unit shows no spread and is not tried");
        assertEquals(new Patterns.Factor("body", "tractor"), item.factor());
        assertEquals(2, item.units());
        assertEquals(2, item.episodes());
        assertEquals(2, item.rateRatio().orElseThrow(), 1e-9);
        assertTrue(item.low() < 2 && item.high().orElseThrow() > 2);
    }

    @Test
    void systems_areTriedApart() {
        Patterns patterns = Patterns.of(Row.rows(new Row("A").tag("t", "x").visit(0, 0).fresh(5, "charge-air").visit(100, 1000),
                new Row("B").tag("t", "x").visit(0, 0).fresh(6).visit(100, 1000), new Row("C").visit(0, 0).noFaultFound(7).visit(100, 1000),
                new Row("D").visit(0, 0).visit(100, 1000)), Row.at(100));

        assertEquals(List.of("charge-air", Row.SYSTEM), patterns.items().stream().map(Patterns.Item::system).sorted().toList());
        assertTrue(patterns.items().stream().allMatch(item -> item.rateRatio().isEmpty() && item.high().isEmpty()),
                "without an episode on the other side there is no ratio");
    }

    /** Where counts spread no more than chance it is the exact conditional test: 8 against 2 at equal exposure, two-sided 2 P(X >= 8) = 2 56/1024. */
    @Test
    void tagEffect_withoutSpread_isTheExactConditionalTest() {
        TagEffect.Sums with = new TagEffect.Sums();
        TagEffect.Sums all = new TagEffect.Sums();
        for (int i = 0; i < 10; i++) {
            with.add(i < 8 ? 1 : 0, 1);
            all.add(i < 8 ? 1 : 0, 1);
            all.add(i < 2 ? 1 : 0, 1);
        }

        TagEffect effect = TagEffect.of(with, all);

        assertEquals(4, effect.ratio().orElseThrow(), 1e-9);
        assertEquals(2 * 56 / 1024.0, effect.pValue(), 1e-9);
    }

    @Test
    void tags_ofOneFleet() {
        check(2, 7);
    }

    @Test
    @Tag("long")
    void tags_ofTwentyFleets() {
        check(20, 101);
    }

    /** DESIGN.md 9: a tag with three times the rate is found, of 26 without effect at most one is called. */
    private static void check(int fleets, long seed) {
        for (int i = 0; i < fleets; i++) {
            SimulatedFleet fleet = new SimulatedFleet(TAGGED, seed + i);

            List<Patterns.Item> called = Patterns.of(fleet::each, NOW).items().stream().filter(item -> item.qValue() < 0.05).toList();

            Optional<Patterns.Item> harness = called.stream().filter(item -> item.factor().tag().equals("harness")).findFirst();
            assertTrue(harness.isPresent(), "fleet " + (seed + i));
            assertTrue(harness.get().low() > 1, "fleet " + (seed + i));
            assertTrue(called.size() <= 2, "fleet " + (seed + i) + " called " + called);
        }
    }
}
