package comebackledger.fleet;

import comebackledger.stat.Multiplicity;
import comebackledger.trail.UnitSummary.Opened;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * What the units that fail have in common: for each build tag and system, the episode rate of the units with the tag against those without, with the
 * spread between units counted ({@link TagEffect}), and a q-value (Benjamini and Hochberg 1995) across all that were tried. A tag is tried where at
 * least two units have it and two have not: one unit shows no spread.
 */
public record Patterns(List<Item> items) {
    private static final int FEWEST_UNITS = 2;

    /** A build tag. */
    public record Factor(String tag, String value) {}

    /**
     * @param units with the tag
     * @param episodes of those units
     * @param rateRatio empty where the units without the tag have no episode; so is {@code high}
     */
    public record Item(Factor factor, String system, int units, int episodes, OptionalDouble rateRatio, double low, OptionalDouble high,
            double qValue) {}

    private record Tried(Factor factor, String system, TagEffect.Sums with, TagEffect effect) {}

    public static Patterns of(FleetRows rows, FleetQuestion question) {
        Sheet sheet = new Sheet();
        Observed.each(rows, question, Measure.KM, observed -> sheet.add(observed, question));
        List<Tried> tried = sheet.tried();
        double[] q = Multiplicity.benjaminiHochberg(tried.stream().mapToDouble(one -> one.effect().pValue()).toArray());
        List<Item> items = new ArrayList<>();
        for (int i = 0; i < q.length; i++) {
            Tried one = tried.get(i);
            items.add(new Item(one.factor(), one.system(), one.with().units(), (int) one.with().events(), one.effect().ratio(), one.effect().low(),
                    one.effect().high(), q[i]));
        }
        items.sort(Comparator.comparingDouble(Item::qValue).thenComparing(item -> -item.rateRatio().orElse(Double.MAX_VALUE))
                .thenComparing(item -> item.factor().tag()).thenComparing(item -> item.factor().value()).thenComparing(Item::system));
        return new Patterns(List.copyOf(items));
    }

    /** The sums that the rows leave: bounded by the tags and systems there are, not by the units. */
    private static final class Sheet {
        private final TagEffect.Sums exposed = new TagEffect.Sums();
        private final SortedMap<String, TagEffect.Sums> all = new TreeMap<>();
        private final Map<Factor, TagEffect.Sums> exposedWith = new TreeMap<>(Comparator.comparing(Factor::tag).thenComparing(Factor::value));
        private final Map<Factor, SortedMap<String, TagEffect.Sums>> with = new TreeMap<>(
                Comparator.comparing(Factor::tag).thenComparing(Factor::value));

        void add(Observed observed, FleetQuestion question) {
            Optional<Double> exposure = exposure(observed);
            if (exposure.isEmpty()) {
                return;
            }
            SortedMap<String, Integer> episodes = new TreeMap<>();
            observed.unit().episodes().stream().filter(question::counts).map(Opened::system)
                    .forEach(system -> episodes.merge(system, 1, Integer::sum));
            List<Factor> factors = observed.unit().tags().entrySet().stream().map(tag -> new Factor(tag.getKey(), tag.getValue())).toList();
            exposed.add(0, exposure.get());
            factors.forEach(factor -> exposedWith.computeIfAbsent(factor, _ -> new TagEffect.Sums()).add(0, exposure.get()));
            episodes.forEach((system, count) -> {
                all.computeIfAbsent(system, _ -> new TagEffect.Sums()).add(count, exposure.get());
                factors.forEach(factor -> with.computeIfAbsent(factor, _ -> new TreeMap<>()).computeIfAbsent(system, _ -> new TagEffect.Sums())
                        .add(count, exposure.get()));
            });
        }

        /** The distance, or what the days come to at the peers' usage; days where the fleet knows no distance at all. */
        private static Optional<Double> exposure(Observed observed) {
            Optional<Double> km = observed.exposure(Measure.KM).map(Amount::value);
            if (km.isPresent()) {
                return km;
            }
            OptionalDouble perDay = observed.usualPerDay();
            return observed.exposure(Measure.DAYS).map(days -> days.value() * perDay.orElse(1)).filter(amount -> amount > 0);
        }

        List<Tried> tried() {
            List<Tried> tried = new ArrayList<>();
            exposedWith.forEach((factor, units) -> {
                if (units.units() >= FEWEST_UNITS && exposed.units() - units.units() >= FEWEST_UNITS) {
                    all.forEach((system, every) -> {
                        TagEffect.Sums own = with.getOrDefault(factor, new TreeMap<>()).getOrDefault(system, new TagEffect.Sums());
                        TagEffect.Sums whole = own.within(units);
                        tried.add(new Tried(factor, system, whole, TagEffect.of(whole, every.within(exposed))));
                    });
                }
            });
            return tried;
        }
    }
}
