package comebackledger.policy;

import comebackledger.Require;
import java.util.OptionalDouble;

/**
 * Limits of the charge-air tests, as shares of engine air lost at rated boost.
 *
 * @param maxLossShare above it a test is outside
 * @param holdLossShare above it the unit is held
 * @param maxOrificeMm the limit where the build has no engine to compare with
 */
public record AirPolicy(double maxLossShare, double holdLossShare, OptionalDouble maxOrificeMm) {
    /** Common practice, no source. */
    public static final AirPolicy DEFAULT = new AirPolicy(0.03, 0.10, OptionalDouble.empty());

    /** Whether tests have the same verdicts under both; what holds a unit back is weighed later. */
    boolean judgesAs(AirPolicy other) {
        return maxLossShare == other.maxLossShare && maxOrificeMm.equals(other.maxOrificeMm);
    }

    public AirPolicy {
        Require.that(maxLossShare > 0 && maxLossShare < 1, "maxLossShare must be above 0 and below 1, was %s", maxLossShare);
        Require.that(holdLossShare >= maxLossShare && holdLossShare <= 1, "holdLossShare must be from maxLossShare to 1, was %s", holdLossShare);
        Require.that(maxOrificeMm.isEmpty() || maxOrificeMm.getAsDouble() > 0 && maxOrificeMm.getAsDouble() <= 100,
                "maxOrificeMm must be above 0 and at most 100 mm");
    }
}
