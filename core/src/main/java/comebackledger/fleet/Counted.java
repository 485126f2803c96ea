package comebackledger.fleet;

import java.util.Arrays;

/**
 * What was counted of each unit, as columns; and the kinds of units, those of as many returns and as many fresh episodes: of a large fleet there are a few
 * dozen, and whatever depends on nothing else is calculated once for each.
 */
final class Counted {
    private final double[] returns;
    private final double[] fresh;
    private final double[] exposures;
    private final int[] kindOf;
    private final double[] kindReturns;
    private final double[] kindFresh;
    private final int[] kindUnits;

    /** Columns of one length, counts whole; they are handed over. */
    Counted(double[] returns, double[] fresh, double[] exposures) {
        this.returns = returns;
        this.fresh = fresh;
        this.exposures = exposures;
        long[] keys = new long[returns.length];
        Arrays.setAll(keys, i -> (long) returns[i] << 32 | (long) fresh[i]);
        long[] kinds = Arrays.stream(keys).sorted().distinct().toArray();
        kindOf = new int[keys.length];
        kindUnits = new int[kinds.length];
        for (int i = 0; i < keys.length; i++) {
            kindOf[i] = Arrays.binarySearch(kinds, keys[i]);
            kindUnits[kindOf[i]]++;
        }
        kindReturns = Arrays.stream(kinds).mapToDouble(key -> key >> 32).toArray();
        kindFresh = Arrays.stream(kinds).mapToDouble(key -> (int) key).toArray();
    }

    int units() {
        return returns.length;
    }

    double returns(int unit) {
        return returns[unit];
    }

    double fresh(int unit) {
        return fresh[unit];
    }

    double exposure(int unit) {
        return exposures[unit];
    }

    double[] returns() {
        return returns;
    }

    double[] fresh() {
        return fresh;
    }

    double[] exposures() {
        return exposures;
    }

    int kindOf(int unit) {
        return kindOf[unit];
    }

    /** In order of returns, then of fresh episodes. */
    int kinds() {
        return kindUnits.length;
    }

    double kindReturns(int kind) {
        return kindReturns[kind];
    }

    double kindFresh(int kind) {
        return kindFresh[kind];
    }

    int kindUnits(int kind) {
        return kindUnits[kind];
    }
}
