package comebackledger.stat;

import comebackledger.Require;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;

/**
 * The share of repairs still holding (Kaplan and Meier 1958), with Greenwood's error and log(-log) limits:
 * <pre>
 *   S = product (1 - d/Y)       se = S sqrt( sum d/(Y(Y-d)) )       limits S^exp(-+ z se/(S |ln S|))
 * </pre>
 * Points at return times only; a repair that ends at a return time without return is still at risk there. The median is the first time with S at most
 * 0.5, its limits read off the limit curves (Brookmeyer and Crowley 1982).
 */
public record HoldCurve(List<Point> points, OptionalDouble median, OptionalDouble medianLow, OptionalDouble medianHigh) {
    /** @param returned false: it still held when last seen */
    public record Repair(double held, boolean returned) {
        public Repair {
            Require.that(held >= 0 && Double.isFinite(held), "held must be 0 or more, was %s", held);
        }
    }

    /** @param standardError empty with {@code low} and {@code high} once nothing holds */
    public record Point(double at, int atRisk, int returned, double holding, OptionalDouble standardError, OptionalDouble low, OptionalDouble high) {}

    public static HoldCurve of(List<Repair> repairs, double confidenceLevel) {
        Repair[] sorted = repairs.toArray(Repair[]::new);
        Arrays.sort(sorted, Comparator.comparingDouble(Repair::held));
        double z = Normal.z(confidenceLevel);
        List<Point> points = new ArrayList<>();
        double holding = 1;
        double greenwood = 0;
        int from = 0;
        while (from < sorted.length) {
            int to = from;
            int returned = 0;
            while (to < sorted.length && sorted[to].held() == sorted[from].held()) {
                returned += sorted[to].returned() ? 1 : 0;
                to++;
            }
            if (returned > 0) {
                int atRisk = sorted.length - from;
                holding = returned == atRisk ? 0 : holding * (atRisk - returned) / atRisk;
                greenwood += (double) returned / ((double) atRisk * (atRisk - returned));
                points.add(point(sorted[from].held(), atRisk, returned, holding, greenwood, z));
            }
            from = to;
        }
        return new HoldCurve(List.copyOf(points), first(points, point -> OptionalDouble.of(point.holding())), first(points, Point::low),
                first(points, Point::high));
    }

    private static Point point(double at, int atRisk, int returned, double holding, double greenwood, double z) {
        if (holding == 0) {
            return new Point(at, atRisk, returned, 0, OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());
        }
        double error = holding * Math.sqrt(greenwood);
        double spread = Math.exp(z * Math.sqrt(greenwood) / -Math.log(holding));
        return new Point(at, atRisk, returned, holding, OptionalDouble.of(error), OptionalDouble.of(Math.pow(holding, spread)),
                OptionalDouble.of(Math.pow(holding, 1 / spread)));
    }

    private interface Curve {
        OptionalDouble at(Point point);
    }

    private static OptionalDouble first(List<Point> points, Curve curve) {
        // A curve computed by products may stand a rounding above one half.
        return points.stream().filter(point -> curve.at(point).orElse(1) <= 0.5 + 1e-12).mapToDouble(Point::at).findFirst();
    }
}
