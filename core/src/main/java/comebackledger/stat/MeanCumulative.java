package comebackledger.stat;

import comebackledger.Require;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;

/**
 * Mean cumulative number of events a unit, over units observed for different times.
 * <pre>
 *   mean(t) = sum over event times up to t of d/Y,  d events at the time, Y units observed at least until it
 *   variance(t) = sum over units of ( sum up to t of (own events - d/Y) / Y )^2       robust: units may differ and events may breed events
 *   limits: mean exp(-+ z se/mean)
 * </pre>
 * Source: Nelson 1995; Lawless and Nadeau 1995 (doi 10.1080/00401706.1995.10484300). No n/(n-1) factor.
 */
public final class MeanCumulative {
    private MeanCumulative() {}

    /** One unit: the times of its events, each at most {@code observedUntil}. */
    public record History(double[] events, double observedUntil) {
        public History {
            Require.that(observedUntil >= 0 && Double.isFinite(observedUntil), "observedUntil must be 0 or more, was %s", observedUntil);
            for (double event : events) {
                Require.that(event >= 0 && event <= observedUntil, "an event must lie from 0 to observedUntil %s, was %s", observedUntil, event);
            }
        }
    }

    /** @param low empty where the error is not known (a single unit has none of its own) */
    public record Point(double at, int atRisk, double mean, double standardError, OptionalDouble low, OptionalDouble high) {}

    private record Event(double at, int unit) {}

    /** At every event time, in order; n log n. */
    public static List<Point> of(List<History> units, double confidenceLevel) {
        List<Event> events = new ArrayList<>();
        for (int i = 0; i < units.size(); i++) {
            for (double at : units.get(i).events()) {
                events.add(new Event(at, i));
            }
        }
        events.sort(Comparator.comparingDouble(Event::at));
        Integer[] byEnd = new Integer[units.size()];
        Arrays.setAll(byEnd, i -> i);
        Arrays.sort(byEnd, Comparator.comparingDouble(i -> units.get(i).observedUntil()));
        return new Sweep(units, events, byEnd, Normal.z(confidenceLevel)).points();
    }

    /** One pass over time. The residual of a unit is its own sum less the common one, frozen when its observation ends. */
    private static final class Sweep {
        private final List<History> units;
        private final List<Event> events;
        private final Integer[] byEnd;
        private final double z;
        private final double[] own;
        private double ownSum;
        private double ownSquares;
        private double common;
        private double frozen;
        private int atRisk;
        private int ended;

        Sweep(List<History> units, List<Event> events, Integer[] byEnd, double z) {
            this.units = units;
            this.events = events;
            this.byEnd = byEnd;
            this.z = z;
            this.own = new double[units.size()];
            this.atRisk = units.size();
        }

        List<Point> points() {
            List<Point> points = new ArrayList<>();
            double mean = 0;
            int from = 0;
            while (from < events.size()) {
                double at = events.get(from).at();
                endBefore(at);
                int to = from;
                while (to < events.size() && events.get(to).at() == at) {
                    add(events.get(to).unit(), 1.0 / atRisk);
                    to++;
                }
                double step = (double) (to - from) / atRisk;
                mean += step;
                common += step / atRisk;
                points.add(point(at, mean));
                from = to;
            }
            return List.copyOf(points);
        }

        private void endBefore(double at) {
            while (ended < byEnd.length && units.get(byEnd[ended]).observedUntil() < at) {
                int unit = byEnd[ended++];
                double residual = own[unit] - common;
                frozen += residual * residual;
                ownSum -= own[unit];
                ownSquares -= own[unit] * own[unit];
                atRisk--;
            }
        }

        private void add(int unit, double share) {
            ownSquares += 2 * own[unit] * share + share * share;
            ownSum += share;
            own[unit] += share;
        }

        private Point point(double at, double mean) {
            double running = Math.max(0, ownSquares - 2 * common * ownSum + atRisk * common * common);
            double error = Math.sqrt(frozen + running);
            // A sum of squares below the rounding of its parts is nothing.
            double told = error * error < 1e-14 * (ownSquares + frozen) ? 0 : error;
            double spread = Math.exp(z * told / mean);
            boolean known = units.size() > 1;
            return new Point(at, atRisk, mean, told, known ? OptionalDouble.of(mean / spread) : OptionalDouble.empty(),
                    known ? OptionalDouble.of(mean * spread) : OptionalDouble.empty());
        }
    }
}
