package comebackledger.stat;

import comebackledger.Require;

/** The middle value; of an even number of them, half way between the two in the middle. */
public final class Median {
    private Median() {}

    /** @throws IllegalArgumentException if there is no value */
    public static double ofSorted(double[] values) {
        int n = values.length;
        Require.that(n > 0, "a median needs a value");
        return n % 2 == 1 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2]) / 2;
    }
}
