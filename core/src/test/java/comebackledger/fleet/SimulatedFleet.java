package comebackledger.fleet;

import comebackledger.measure.MeterLine;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitSummary.Mended;
import comebackledger.trail.UnitSummary.Metered;
import comebackledger.trail.UnitSummary.Opened;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.function.Consumer;

/**
 * A fleet with known truth: each unit has its own rate of fresh episodes (a gamma law, and a few bad actors), its own usage (tenfold spread) and time in
 * the fleet; each repair fails with a probability and then brings a return within the window, whose repair may fail again. Some units have no meter.
 */
final class SimulatedFleet {
    static final Instant START = Instant.parse("2023-01-01T00:00:00Z");
    static final Instant AT = Instant.parse("2026-01-01T00:00:00Z");
    static final String SYSTEM = "network.j1939-1";
    private static final double DAYS = MeterLine.daysBetween(START, AT);

    /** @param badActors their share; @param badRate how many times the rate of others; @param failing the chance that a repair brings a return */
    record Law(int units, double spread, double freshPer100000Km, double badActors, double badRate, double failing, double withoutMeter) {
        static final Law USUAL = new Law(800, 3, 1.5, 0.05, 4, 0.35, 0.1);

        Law of(int count) {
            return new Law(count, spread, freshPer100000Km, badActors, badRate, failing, withoutMeter);
        }
    }

    /** @param returnsPer100000Km the unit's true rate */
    record Truth(String unit, double returnsPer100000Km, double km, boolean metered, double freshPer100000Km) {}

    final List<UnitSummary> rows = new ArrayList<>();
    final List<Truth> truths = new ArrayList<>();
    private final SplittableRandom random;
    private final Law law;

    SimulatedFleet(Law law, long seed) {
        this.law = law;
        this.random = new SplittableRandom(seed);
        for (int i = 0; i < law.units(); i++) {
            unit(i);
        }
    }

    void each(Consumer<UnitSummary> row) {
        rows.forEach(row);
    }

    private void unit(int number) {
        String id = String.format("U-%04d", number);
        TreeMap<String, String> tags = new TreeMap<>();
        for (int tag = 0; tag < 26; tag++) {
            if (random.nextDouble() < 0.05 + 0.4 * tag / 26) {
                tags.put("harmless" + (char) ('a' + tag), "yes");
            }
        }
        boolean bad = random.nextDouble() < law.badActors();
        boolean tagged = random.nextDouble() < 0.2;
        if (tagged) {
            tags.put("harness", "b");
        }
        double frailty = gamma(law.spread()) / law.spread();
        double fresh = law.freshPer100000Km() * frailty * (bad ? law.badRate() : 1) * (tagged ? tagFactor() : 1);
        double perDay = 40 * Math.pow(10, random.nextDouble());
        double begins = random.nextDouble() * DAYS * 0.6;
        double km = perDay * (DAYS - begins);
        boolean metered = random.nextDouble() >= law.withoutMeter();
        List<Opened> episodes = new ArrayList<>();
        List<Mended> repairs = new ArrayList<>();
        List<Double> days = new ArrayList<>(List.of(begins));
        for (double day = begins + exponential(fresh / 100_000 * perDay); day < DAYS; day += exponential(fresh / 100_000 * perDay)) {
            chain(day, perDay, begins, metered, episodes, repairs, days);
        }
        for (double day = begins + 90; day < DAYS; day += 60 + 60 * random.nextDouble()) {
            days.add(day);
        }
        episodes.sort(Comparator.comparing(Opened::openedAt));
        days.sort(Comparator.naturalOrder());
        List<Metered> visits = days.stream().filter(_ -> metered)
                .map(day -> new Metered(at(day), OptionalDouble.of(100_000 + perDay * (day - begins)), 0, OptionalDouble.empty(), 0)).toList();
        rows.add(new UnitSummary(id, Optional.of(number % 2 == 0 ? "even" : "odd"), tags, Optional.empty(), Optional.empty(), Optional.of(at(begins)),
                Optional.of(at(days.getLast())), visits, episodes, repairs));
        truths.add(new Truth(id, fresh * law.failing() / (1 - law.failing()), km, metered, fresh));
    }

    private double tagFactor() {
        return law.badRate() > 1 ? 1 : 3;
    }

    private void chain(double freshDay, double perDay, double begins, boolean metered, List<Opened> episodes, List<Mended> repairs,
            List<Double> days) {
        boolean isReturn = false;
        String place = SYSTEM + ".place-" + episodes.size();
        double day = freshDay;
        boolean fails = true;
        while (fails && day < DAYS) {
            days.add(day);
            episodes.add(new Opened(SYSTEM, place, "V", at(day), Optional.of(at(day)), true, false, isReturn, false,
                    metered ? OptionalDouble.of(100_000 + perDay * (day - begins)) : OptionalDouble.empty(), OptionalDouble.empty()));
            fails = random.nextDouble() < law.failing();
            double next = day + 1 + 60 * random.nextDouble();
            boolean seen = fails && next < DAYS;
            repairs.add(new Mended(SYSTEM, place, "V", at(day), "replaced", Optional.empty(), true, OptionalDouble.empty(), OptionalDouble.empty(),
                    seen ? Optional.of(at(next)) : Optional.empty(),
                    seen && metered ? OptionalDouble.of(perDay * (next - day)) : OptionalDouble.empty(),
                    OptionalDouble.empty(), Optional.empty(), OptionalDouble.empty(), OptionalDouble.empty()));
            isReturn = true;
            day = next;
        }
    }

    private static Instant at(double day) {
        return START.plusSeconds(Math.round(day * 86_400));
    }

    private double exponential(double rate) {
        return -Math.log(1 - random.nextDouble()) / rate;
    }

    /** Marsaglia and Tsang 2000, for a shape of at least 1. */
    private double gamma(double shape) {
        double d = shape - 1.0 / 3;
        while (true) {
            double x = random.nextGaussian();
            double v = Math.pow(1 + x / Math.sqrt(9 * d), 3);
            if (v > 0 && Math.log(1 - random.nextDouble()) < 0.5 * x * x + d - d * v + d * Math.log(v)) {
                return d * v;
            }
        }
    }
}
