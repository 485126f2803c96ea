package comebackledger.stat;

import java.util.Arrays;
import java.util.Optional;
import java.util.function.IntPredicate;

/** Nelson's eight tests of a control chart (Nelson 1984, doi 10.1080/00224065.1984.11978921): patterns that chance seldom draws inside the limits. */
public enum RunRules {
    /** One point beyond three sigmas. */
    ONE(1, 0), NINE_SAME_SIDE(9, 0), SIX_RISING(6, 0), FOURTEEN_ALTERNATING(14, 0),
    /** Two of three beyond two sigmas, on one side. */
    TWO_OF_THREE_BEYOND_2(3, 2), FOUR_OF_FIVE_BEYOND_1(5, 4), FIFTEEN_WITHIN_1(15, 0),
    /** On either side. */
    EIGHT_OUTSIDE_1(8, 0);

    private final int window;
    private final int needed;

    RunRules(int window, int needed) {
        this.window = window;
        this.needed = needed;
    }

    /** The first point, from 1, at which the rule is broken. @param sigma above 0 */
    public Optional<Integer> firstSignal(double[] values, double centre, double sigma) {
        double[] z = Arrays.stream(values).map(value -> (value - centre) / sigma).toArray();
        for (int end = Math.min(window, needed > 0 ? needed : window) - 1; end < z.length; end++) {
            if (broken(z, end)) {
                return Optional.of(end + 1);
            }
        }
        return Optional.empty();
    }

    private boolean broken(double[] z, int end) {
        int from = Math.max(0, end - window + 1);
        boolean whole = end - from + 1 == window;
        return switch (this) {
            case ONE -> Math.abs(z[end]) > 3;
            case NINE_SAME_SIDE -> whole && (all(from, end, i -> z[i] > 0) || all(from, end, i -> z[i] < 0));
            case SIX_RISING -> whole && (all(from + 1, end, i -> z[i] > z[i - 1]) || all(from + 1, end, i -> z[i] < z[i - 1]));
            case FOURTEEN_ALTERNATING -> whole && all(from + 2, end, i -> (z[i] - z[i - 1]) * (z[i - 1] - z[i - 2]) < 0);
            case TWO_OF_THREE_BEYOND_2 -> beyond(z, from, end, 2);
            case FOUR_OF_FIVE_BEYOND_1 -> beyond(z, from, end, 1);
            case FIFTEEN_WITHIN_1 -> whole && all(from, end, i -> Math.abs(z[i]) < 1);
            case EIGHT_OUTSIDE_1 -> whole && all(from, end, i -> Math.abs(z[i]) > 1);
        };
    }

    private boolean beyond(double[] z, int from, int end, double sigmas) {
        return count(from, end, i -> z[i] > sigmas) >= needed || count(from, end, i -> z[i] < -sigmas) >= needed;
    }

    private static boolean all(int from, int end, IntPredicate rule) {
        return count(from, end, rule) == end - from + 1;
    }

    private static int count(int from, int end, IntPredicate rule) {
        int count = 0;
        for (int i = from; i <= end; i++) {
            count += rule.test(i) ? 1 : 0;
        }
        return count;
    }
}
