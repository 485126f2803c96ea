package comebackledger.stat;

/**
 * What tied values do to a rank test's variance, over groups of t equal values.
 *
 * @param pairs sum t(t-1)/2
 * @param cubic sum t(t-1)(2t+5)
 * @param doubles sum t(t-1)
 * @param triples sum t(t-1)(t-2)
 */
record Ties(long pairs, double cubic, double doubles, double triples) {
    static Ties ofSorted(double[] sorted) {
        long pairs = 0;
        double cubic = 0;
        double doubles = 0;
        double triples = 0;
        int from = 0;
        for (int i = 1; i <= sorted.length; i++) {
            if (i == sorted.length || sorted[i] != sorted[from]) {
                double t = i - from;
                pairs += (long) (i - from) * (i - from - 1) / 2;
                cubic += t * (t - 1) * (2 * t + 5);
                doubles += t * (t - 1);
                triples += t * (t - 1) * (t - 2);
                from = i;
            }
        }
        return new Ties(pairs, cubic, doubles, triples);
    }
}
