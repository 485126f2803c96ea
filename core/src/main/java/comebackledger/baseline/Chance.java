package comebackledger.baseline;

import comebackledger.Require;

/**
 * How likely a new episode is on a trip.
 *
 * @param low of the 95 % credible interval
 * @param basis in words
 */
public record Chance(double probability, double low, double high, String basis, int baselineVersion) {
    public Chance {
        Require.that(low >= 0 && low <= probability && probability <= high && high <= 1, "low <= probability <= high within 0 to 1");
    }
}
