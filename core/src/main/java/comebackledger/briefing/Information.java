package comebackledger.briefing;

/**
 * What a test tells, in bits: I(hypothesis; outcome) = H(outcome) - sum of p(h) H(outcome | h).
 */
final class Information {
    private Information() {}

    /** @param probability of each hypothesis, adding up to 1; @param outcome for each hypothesis the probabilities of each outcome */
    static double bits(double[] probability, double[][] outcome) {
        double[] all = new double[outcome[0].length];
        double known = 0;
        for (int h = 0; h < probability.length; h++) {
            known += probability[h] * entropy(outcome[h]);
            for (int o = 0; o < all.length; o++) {
                all[o] += probability[h] * outcome[h][o];
            }
        }
        return Math.max(0, entropy(all) - known);
    }

    /** Of a test that finds something or not. */
    static double bits(double probability, double foundIfSo, double foundIfNot) {
        return bits(new double[]{probability, 1 - probability}, new double[][]{{foundIfSo, 1 - foundIfSo}, {foundIfNot, 1 - foundIfNot}});
    }

    private static double entropy(double[] shares) {
        double bits = 0;
        for (double share : shares) {
            bits -= share > 0 ? share * Math.log(share) / Math.log(2) : 0;
        }
        return bits;
    }
}
