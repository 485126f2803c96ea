package comebackledger.stat;

import java.util.Arrays;

/** p-values of many tests, adjusted so that few of those called are false. In the order of the input, at most 1. */
public final class Multiplicity {
    private Multiplicity() {}

    /** The false discovery rate at which each would just be called (Benjamini and Hochberg 1995): step-up, the minimum from the largest p down. */
    public static double[] benjaminiHochberg(double[] pValues) {
        double[] sorted = pValues.clone();
        Arrays.sort(sorted);
        double[] bySize = new double[sorted.length];
        double least = 1;
        for (int i = sorted.length - 1; i >= 0; i--) {
            least = Math.min(least, sorted[i] * sorted.length / (i + 1));
            bySize[i] = least;
        }
        // Equal p-values have one adjusted value, whichever of them is found.
        return Arrays.stream(pValues).map(p -> bySize[Arrays.binarySearch(sorted, p)]).toArray();
    }
}
