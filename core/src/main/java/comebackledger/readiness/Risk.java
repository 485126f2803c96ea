package comebackledger.readiness;

import comebackledger.Require;
import java.util.OptionalDouble;

/**
 * The probability that the unit opens a new episode in a covered system during the trip.
 *
 * @param per the exposure it is for: the measure that was asked for
 * @param basis in words: own history, peers, age of repairs, drift
 * @param baselineVersion of what the fleet taught; 0 where nothing was learned yet
 */
public record Risk(double probability, double low, double high, Per per, String basis, int baselineVersion) {
    public Risk {
        Require.that(low >= 0 && low <= probability && probability <= high && high <= 1, "low <= probability <= high within 0 to 1, was %s %s %s",
                low,
                probability, high);
    }

    /** The exposure of the trip in the measures that are known. */
    public record Per(OptionalDouble distanceKm, OptionalDouble engineHours, OptionalDouble days) {}
}
