package comebackledger.policy;

import comebackledger.Require;
import java.util.Collections;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Limits of the bus checks.
 *
 * @param terminatorTolerance of the expected range, share of the nominal
 * @param namePlaceAt the probability from which the first suspect names the place
 * @param holdFaultsAt the summed probability of hold faults from which a safety network holds the unit
 * @param lowSupplyVoltsPer12 below this, per 12 V of nominal supply, roll calls and voltages count as not made
 * @param faultOdds weights before any reading, by fault word; what is left out keeps its default
 * @param testMinutes what a test takes, by its word; what is left out keeps its default
 * @param highLowOhm a fixed range in place of the one from the build
 */
public record BusPolicy(double terminatorTolerance, double namePlaceAt, double holdFaultsAt, double lowSupplyVoltsPer12,
        SortedMap<String, Double> faultOdds, SortedMap<String, Double> testMinutes,
        Optional<Range> highLowOhm) {
    /** Common practice, no source. */
    public static final BusPolicy DEFAULT = new BusPolicy(0.03, 0.6, 0.5, 11.0, new TreeMap<>(), new TreeMap<>(), Optional.empty());

    /** A fixed range, ohm. */
    public record Range(double low, double high) {
        public Range {
            Require.that(low >= 0 && low < high && high <= 1e6, "low must be 0 or more and below high, at most 1 000 000 ohm");
        }
    }

    public BusPolicy {
        Require.that(terminatorTolerance > 0 && terminatorTolerance <= 0.5, "terminatorTolerance must be above 0 and at most 0.5, was %s",
                terminatorTolerance);
        Require.that(namePlaceAt > 0 && namePlaceAt <= 1, "namePlaceAt must be above 0 and at most 1, was %s", namePlaceAt);
        Require.that(holdFaultsAt > 0 && holdFaultsAt <= 1, "holdFaultsAt must be above 0 and at most 1, was %s", holdFaultsAt);
        Require.that(lowSupplyVoltsPer12 >= 0 && lowSupplyVoltsPer12 <= 12, "lowSupplyVoltsPer12 must be from 0 to 12, was %s", lowSupplyVoltsPer12);
        testMinutes.forEach((test, minutes) -> Require.that(minutes > 0 && minutes <= 1440,
                "the minutes of %s must be above 0 and at most 1440, was %s", test, minutes));
        testMinutes = Collections.unmodifiableSortedMap(new TreeMap<>(testMinutes));
        faultOdds = Collections.unmodifiableSortedMap(new TreeMap<>(faultOdds));
    }
}
