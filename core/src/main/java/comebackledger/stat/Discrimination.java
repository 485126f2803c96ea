package comebackledger.stat;

import comebackledger.Require;
import java.util.Arrays;
import java.util.OptionalDouble;

/**
 * How well scores tell true cases from false ones: the share of pairs, one true and one false, in which the true one scores higher; a tie counts one half.
 * Limits by DeLong, DeLong and Clarke-Pearson 1988: auc -+ z sqrt( var(V)/true + var(W)/false ), V and W the shares that each case wins.
 *
 * @param auc empty unless there are both true and false cases
 * @param low empty with fewer than two cases of either
 */
public record Discrimination(OptionalDouble auc, OptionalDouble low, OptionalDouble high) {
    public static Discrimination of(double[] scores, boolean[] outcomes, double confidenceLevel) {
        Require.that(scores.length == outcomes.length, "each score needs its outcome, there were %s and %s", scores.length, outcomes.length);
        double[] hit = pick(scores, outcomes, true);
        double[] miss = pick(scores, outcomes, false);
        if (hit.length == 0 || miss.length == 0) {
            return new Discrimination(OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());
        }
        double[] wins = shares(hit, miss);
        double[] losses = Arrays.stream(shares(miss, hit)).map(share -> 1 - share).toArray();
        double auc = Arrays.stream(wins).average().orElseThrow();
        if (hit.length < 2 || miss.length < 2) {
            return new Discrimination(OptionalDouble.of(auc), OptionalDouble.empty(), OptionalDouble.empty());
        }
        double error = Math.sqrt(variance(wins) / hit.length + variance(losses) / miss.length);
        double z = Normal.z(confidenceLevel);
        return new Discrimination(OptionalDouble.of(auc), OptionalDouble.of(auc - z * error), OptionalDouble.of(auc + z * error));
    }

    /** The share of true cases among the k of highest score; equal scores in the order given. */
    public static double precisionAt(double[] scores, boolean[] outcomes, int k) {
        Require.that(k >= 1 && k <= scores.length, "k must be from 1 to %s, was %s", scores.length, k);
        Integer[] order = new Integer[scores.length];
        Arrays.setAll(order, i -> i);
        Arrays.sort(order, (one, other) -> Double.compare(scores[other], scores[one]));
        return Arrays.stream(order).limit(k).filter(i -> outcomes[i]).count() / (double) k;
    }

    private static double[] pick(double[] scores, boolean[] outcomes, boolean outcome) {
        double[] picked = new double[scores.length];
        int n = 0;
        for (int i = 0; i < scores.length; i++) {
            if (outcomes[i] == outcome) {
                picked[n++] = scores[i];
            }
        }
        double[] sorted = Arrays.copyOf(picked, n);
        Arrays.sort(sorted);
        return sorted;
    }

    /** For each, the share of the others that it scores above, ties one half; both sorted. */
    private static double[] shares(double[] own, double[] others) {
        double[] shares = new double[own.length];
        int below = 0;
        int upTo = 0;
        for (int i = 0; i < own.length; i++) {
            while (below < others.length && others[below] < own[i]) {
                below++;
            }
            while (upTo < others.length && others[upTo] <= own[i]) {
                upTo++;
            }
            shares[i] = (below + upTo) / 2.0 / others.length;
        }
        return shares;
    }

    private static double variance(double[] values) {
        double mean = Arrays.stream(values).average().orElseThrow();
        return Arrays.stream(values).map(value -> (value - mean) * (value - mean)).sum() / (values.length - 1);
    }
}
