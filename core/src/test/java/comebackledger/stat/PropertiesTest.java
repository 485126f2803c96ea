package comebackledger.stat;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Laws that hold whatever the numbers: shift, scale, order, and the definition counted out the slow way. */
class PropertiesTest {
    private static final long SEED = 20_261_125L;
    private static final int SAMPLES = 50;
    private static final double RELATIVE = 1e-9;

    private static void close(double expected, double actual) {
        assertEquals(expected, actual, RELATIVE * Math.abs(expected) + 1e-12);
    }

    private static void close(OptionalDouble expected, OptionalDouble actual, double factor) {
        assertEquals(expected.isPresent(), actual.isPresent());
        if (expected.isPresent()) {
            close(expected.getAsDouble() * factor, actual.getAsDouble());
        }
    }

    /** Coarse values, so that ties are common. */
    private static double[] coarse(SplittableRandom random, int n, double width) {
        return random.doubles(n).map(value -> Math.rint(value * width)).toArray();
    }

    private static int[] shuffled(int n, long seed) {
        List<Integer> order = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            order.add(i);
        }
        Collections.shuffle(order, new Random(seed));
        return order.stream().mapToInt(Integer::intValue).toArray();
    }

    private static double[] in(int[] order, double[] values) {
        return Arrays.stream(order).mapToDouble(i -> values[i]).toArray();
    }

    @Test
    void trendOfReadings_knowsNoOrderUnitOrOrigin() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int sample = 0; sample < SAMPLES; sample++) {
            double[] at = coarse(random, 20, 12);
            double[] values = coarse(random, 20, 9);
            int[] order = shuffled(20, sample);

            ReadingTrend trend = ReadingTrend.of(at, values, 0.95);
            ReadingTrend moved = ReadingTrend.of(Arrays.stream(in(order, at)).map(x -> 4 * x - 100).toArray(),
                    Arrays.stream(in(order, values)).map(y -> 8 * y + 50).toArray(), 0.95);
            ReadingTrend upsideDown = ReadingTrend.of(at, Arrays.stream(values).map(y -> -y).toArray(), 0.95);

            assertEquals(trend.kendallS(), moved.kendallS());
            close(trend.tau(), moved.tau(), 1);
            close(trend.pValue(), moved.pValue());
            close(2 * trend.slope(), moved.slope());
            close(trend.slopeLow(), moved.slopeLow(), 2);
            close(trend.slopeHigh(), moved.slopeHigh(), 2);
            assertEquals(-trend.kendallS(), upsideDown.kendallS());
            close(-trend.slope(), upsideDown.slope());
            close(trend.slopeLow(), upsideDown.slopeHigh(), -1);
        }
    }

    /** S and the slope of every pair, counted out; sizes on both sides of where slopes are no longer all kept. */
    @ParameterizedTest
    @ValueSource(ints = {2, 3, 17, 1499, 1501, 2000})
    void trendOfReadings_isThatOfAllPairs(int n) {
        SplittableRandom random = new SplittableRandom(SEED + n);
        double[] at = coarse(random, n, 3 * n);
        double[] values = new double[n];
        Arrays.setAll(values, i -> Math.rint(10 * random.nextGaussian() - 0.002 * at[i]) / 4);
        at[0] = -1;
        long score = 0;
        double[] slopes = new double[n * (n - 1) / 2];
        int pairs = 0;
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < i; j++) {
                score += (long) (Math.signum(at[i] - at[j]) * Math.signum(values[i] - values[j]));
                if (at[i] != at[j]) {
                    slopes[pairs++] = (values[i] - values[j]) / (at[i] - at[j]);
                }
            }
        }
        slopes = Arrays.copyOf(slopes, pairs);
        Arrays.sort(slopes);

        ReadingTrend trend = ReadingTrend.of(at, values, 0.95);

        assertEquals(score, trend.kendallS());
        close(pairs % 2 == 1 ? slopes[pairs / 2] : (slopes[pairs / 2 - 1] + slopes[pairs / 2]) / 2, trend.slope());
        PairSlopes ranked = pairSlopes(at, values);
        for (double rank = 1; rank <= pairs; rank += pairs / 7.0) {
            int below = (int) rank;
            double expected = slopes[below - 1] + (rank == below ? 0 : (rank - below) * (slopes[below] - slopes[below - 1]));
            close(expected, ranked.ofRank(rank).orElseThrow());
        }
    }

    private static PairSlopes pairSlopes(double[] at, double[] values) {
        Integer[] order = new Integer[at.length];
        Arrays.setAll(order, i -> i);
        Arrays.sort(order, (one, other) -> at[one] != at[other] ? Double.compare(at[one], at[other]) : Double.compare(values[one], values[other]));
        return new PairSlopes(Arrays.stream(order).mapToDouble(i -> at[i]).toArray(), Arrays.stream(order).mapToDouble(i -> values[i]).toArray());
    }

    /** Many readings that do not move have no slope at all, not a tiny one; and no limit is crossed. */
    @ParameterizedTest
    @ValueSource(ints = {10, 1501, 20_000})
    void levelReadings_haveNoSlope(int n) {
        double[] at = new double[n];
        double[] values = new double[n];
        Arrays.setAll(at, i -> i);
        Arrays.fill(values, 0.1);

        ReadingTrend trend = ReadingTrend.of(at, values, 0.95);

        assertEquals(0, trend.slope());
        assertEquals(OptionalDouble.of(0), trend.slopeLow());
        assertEquals(1, trend.pValue());
        assertTrue(trend.crossing(OptionalDouble.of(0), OptionalDouble.of(1)).isEmpty());
    }

    /** Whether the limit lies ahead or was passed long ago, the earliest is not after the line's own crossing, and the latest not before it. */
    @Test
    void crossing_liesBetweenEarliestAndLatest() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int sample = 0; sample < 500; sample++) {
            double[] at = new double[12];
            double[] values = new double[12];
            double slope = random.nextDouble() - 0.5;
            for (int i = 0; i < 12; i++) {
                at[i] = i;
                values[i] = slope * i + random.nextGaussian();
            }
            double limit = 8 * random.nextDouble() - 4;
            ReadingTrend.of(at, values, 0.95).crossing(OptionalDouble.of(limit), OptionalDouble.of(limit)).ifPresent(crossing -> {
                assertTrue(crossing.earliest().orElse(crossing.at()) <= crossing.at() + 1e-9, crossing.toString());
                assertTrue(crossing.latest().orElse(crossing.at()) >= crossing.at() - 1e-9, crossing.toString());
            });
        }
    }

    @Test
    void trendOfEvents_knowsNoOrderOrUnit() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int sample = 0; sample < SAMPLES; sample++) {
            double[] times = random.doubles(15).map(share -> 1 + 99 * share).toArray();
            for (EventTrend.Truncation truncation : EventTrend.Truncation.values()) {
                double end = truncation == EventTrend.Truncation.TIME ? 100 : Arrays.stream(times).max().orElseThrow();
                EventTrend trend = EventTrend.of(times, end, truncation);
                EventTrend inDays = EventTrend.of(Arrays.stream(in(shuffled(15, sample), times)).map(time -> time / 24).toArray(), end / 24,
                        truncation);

                close(trend.laplace().orElseThrow().statistic(), inDays.laplace().orElseThrow().statistic());
                close(trend.militaryHandbook().orElseThrow().pValue(), inDays.militaryHandbook().orElseThrow().pValue());
                assertEquals(trend.reverseArrangements().orElseThrow().count(), inDays.reverseArrangements().orElseThrow().count());
                PowerLaw law = trend.powerLaw().orElseThrow();
                PowerLaw daily = inDays.powerLaw().orElseThrow();
                close(law.shape(), daily.shape());
                close(law.scale() / 24, daily.scale());
                close(law.meanBetweenEventsAtEndLow() / 24, daily.meanBetweenEventsAtEndLow());
                close(law.cramerVonMises(), daily.cramerVonMises());
                close(times.length, Math.pow(end / law.scale(), law.shape())); // the law passes through what was counted
            }
        }
    }

    /** Every step of the definition, unit by unit. */
    @Test
    void meanCumulative_isItsDefinition() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int sample = 0; sample < SAMPLES; sample++) {
            List<MeanCumulative.History> units = new ArrayList<>();
            for (int i = 0; i < 7; i++) {
                double until = 1 + Math.rint(9 * random.nextDouble());
                units.add(new MeanCumulative.History(coarse(random, random.nextInt(4), until), until));
            }
            for (MeanCumulative.Point point : MeanCumulative.of(units, 0.95)) {
                double mean = 0;
                double[] residuals = new double[units.size()];
                for (int tick = 0; tick <= point.at(); tick++) {
                    int time = tick;
                    double atRisk = units.stream().filter(unit -> unit.observedUntil() >= time).count();
                    double[] own = units.stream().mapToDouble(unit -> Arrays.stream(unit.events()).filter(event -> event == time).count()).toArray();
                    double step = Arrays.stream(own).sum() / atRisk;
                    mean += step;
                    for (int i = 0; i < own.length; i++) {
                        residuals[i] += units.get(i).observedUntil() >= tick ? (own[i] - step) / atRisk : 0;
                    }
                }
                close(mean, point.mean());
                assertEquals(Math.sqrt(Arrays.stream(residuals).map(residual -> residual * residual).sum()), point.standardError(), 1e-7);
            }
        }
    }

    private static List<HoldCurve.Repair> repairs(SplittableRandom random, int n) {
        List<HoldCurve.Repair> repairs = new ArrayList<>();
        for (int i = 0; i < n; i++) {
            repairs.add(new HoldCurve.Repair(Math.rint(20 * random.nextDouble()), random.nextDouble() < 0.6));
        }
        return repairs;
    }

    private static List<HoldCurve.Repair> inMiles(List<HoldCurve.Repair> repairs) {
        List<HoldCurve.Repair> moved = new ArrayList<>(
                repairs.stream().map(repair -> new HoldCurve.Repair(repair.held() * 0.625, repair.returned())).toList());
        Collections.shuffle(moved, new Random(SEED));
        return moved;
    }

    @Test
    void holdCurves_knowNoOrderOrUnit() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int sample = 0; sample < SAMPLES; sample++) {
            List<HoldCurve.Repair> one = repairs(random, 25);
            List<HoldCurve.Repair> other = repairs(random, 15);
            List<HoldCurve.Repair> third = repairs(random, 9);
            HoldCurve curve = HoldCurve.of(one, 0.95);
            HoldCurve moved = HoldCurve.of(inMiles(one), 0.95);

            assertEquals(curve.points().stream().map(HoldCurve.Point::holding).toList(),
                    moved.points().stream().map(HoldCurve.Point::holding).toList());
            close(curve.median(), moved.median(), 0.625);
            close(curve.medianLow(), moved.medianLow(), 0.625);
            HoldComparison comparison = HoldComparison.of(List.of(one, other, third));
            HoldComparison turned = HoldComparison.of(List.of(inMiles(third), inMiles(one), inMiles(other)));
            close(comparison.chiSquare(), turned.chiSquare(), 1);
            assertEquals(2, comparison.degreesOfFreedom());
            close(Arrays.stream(comparison.observed()).sum(), Arrays.stream(comparison.expected()).sum());
        }
    }

    /** A group that was never at risk while something returned compares with nothing, and takes no degree of freedom. */
    @Test
    void groupThatTellsNothing_changesNothing() {
        SplittableRandom random = new SplittableRandom(SEED);
        List<HoldCurve.Repair> one = repairs(random, 25);
        List<HoldCurve.Repair> other = repairs(random, 15);
        HoldComparison two = HoldComparison.of(List.of(one, other));
        HoldComparison withNothing = HoldComparison.of(List.of(one, List.of(), other));
        HoldComparison none = HoldComparison.of(List.of(List.of(new HoldCurve.Repair(1, true)), List.of()));

        assertEquals(1, two.degreesOfFreedom());
        assertEquals(1, withNothing.degreesOfFreedom());
        close(two.chiSquare(), withNothing.chiSquare(), 1);
        assertTrue(none.chiSquare().isEmpty() && none.pValue().isEmpty());
        assertEquals(0, none.degreesOfFreedom());
    }

    @Test
    void ratesOfUnits_knowNoUnitOfExposure() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int sample = 0; sample < 20; sample++) {
            List<RateComparison.Count> perKm = new ArrayList<>();
            List<RateComparison.Count> perMile = new ArrayList<>();
            for (int i = 0; i < 30; i++) {
                double exposure = 1 + 50 * random.nextDouble();
                int events = (int) (random.nextDouble() * random.nextDouble() * 12);
                perKm.add(new RateComparison.Count("u" + i, events, exposure));
                perMile.add(new RateComparison.Count("u" + i, events, exposure / 1000));
            }
            RateComparison km = RateComparison.of(perKm, 2, 0.1);
            RateComparison mile = RateComparison.of(perMile, 2, 0.1);
            assertEquals(km.prior().prior().isPresent(), mile.prior().prior().isPresent());
            double worst = 0;
            for (int i = 0; i < 30 && km.prior().prior().isPresent(); i++) {
                RateComparison.Unit one = km.units().get(i);
                RateComparison.Unit other = mile.units().get(i);
                assertEquals(one.posteriorMean().orElseThrow() * 1000, other.posteriorMean().orElseThrow(),
                        1e-6 * other.posteriorMean().orElseThrow());
                assertEquals(one.probabilityWorst().orElseThrow(), other.probabilityWorst().orElseThrow(), 1e-6);
                close(one.pValue(), other.pValue(), 1);
                worst += one.probabilityWorst().orElseThrow() / 30;
            }
            // The threshold is where the units' laws together leave that share above it.
            assertTrue(km.prior().prior().isEmpty() || Math.abs(worst - 0.1) < 1e-6, "worst share " + worst);
        }
    }

    /** Equal readings do not signal, whatever their last digits. */
    @ParameterizedTest
    @ValueSource(doubles = {0.1, 60, 1.0 / 3, -7e-300, 1e300})
    void equalValues_doNotSignal(double value) {
        double[] values = new double[37];
        Arrays.fill(values, value);
        ControlChart.Settings settings = new ControlChart.Settings(OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty(),
                OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());

        assertEquals(List.of(), ControlChart.individuals(values, values, settings).signals());
        assertEquals(List.of(), ControlChart.ewma(values, values, settings).signals());
        assertEquals(List.of(), ControlChart.cusum(values, values, settings).signals());
    }

    @Test
    void adjustedPValues_areTheDefinition() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int sample = 0; sample < SAMPLES; sample++) {
            double[] p = coarse(random, 1 + random.nextInt(12), 20);
            p = Arrays.stream(p).map(value -> value / 20).toArray();
            double[] sorted = p.clone();
            Arrays.sort(sorted);
            double[] expected = new double[p.length];
            for (int i = 0; i < p.length; i++) {
                double least = 1;
                for (int rank = 1; rank <= p.length; rank++) {
                    if (sorted[rank - 1] >= p[i]) {
                        least = Math.min(least, sorted[rank - 1] * p.length / rank);
                    }
                }
                expected[i] = least;
            }
            assertArrayEquals(expected, Multiplicity.benjaminiHochberg(p), 1e-15);
        }
    }

    /** 100 000 units, without any event and with many: within seconds, and nothing that is not a number. */
    @ParameterizedTest
    @ValueSource(ints = {0, 3})
    void hundredThousandUnits_areCompared(int most) {
        SplittableRandom random = new SplittableRandom(SEED);
        List<RateComparison.Count> counts = new ArrayList<>();
        for (int i = 0; i < 100_000; i++) {
            double bad = i % 50 == 0 ? 4 : 1;
            counts.add(
                    new RateComparison.Count("u" + i, Math.floor(random.nextDouble() * random.nextDouble() * most * bad), 1 + random.nextDouble()));
        }

        List<RateComparison.Unit> units = RateComparison.of(counts, 2, 0.05).units();

        assertEquals(100_000, units.size());
        units.forEach(unit -> {
            assertFalse(Double.isNaN(unit.probabilityWorst().orElse(0)));
            assertTrue(unit.pValue().orElseThrow() >= 0 && unit.pValue().orElseThrow() <= 1);
        });
    }
}
