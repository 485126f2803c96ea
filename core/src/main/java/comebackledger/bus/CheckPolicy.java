package comebackledger.bus;

import comebackledger.Require;
import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

/**
 * The fleet's limits of a bus check and the instruments it assumes.
 *
 * @param terminatorTolerance of the expected range, share of nominal
 * @param terminatorSpread standard deviation of a healthy terminator, share of nominal
 * @param meter where a check does not tell
 * @param leadOhm both leads together, where a check does not tell
 * @param lowSupplyVoltsPer12 below this, per 12 V of nominal supply, roll calls and voltages count as not made
 * @param highLowOhm a fixed range in place of the build's
 * @param testMinutes of the tests that take this fleet other than the usual time, above 0 and at most 1440
 * @param provenRepair factor on the odds of a part that was repaired before, with proof
 */
public record CheckPolicy(double terminatorTolerance, double terminatorSpread, BusReadings.Meter meter, double leadOhm, double lowSupplyVoltsPer12,
        FaultOdds odds, Optional<Range> highLowOhm, Map<TestKind, Double> testMinutes, double provenRepair) {

    /** Common practice, no source. */
    public static final CheckPolicy DEFAULT = new CheckPolicy(0.03, 0.012, new BusReadings.Meter(0.008, 0.1), 0.2, 11, FaultOdds.DEFAULT,
            Optional.empty(), Map.of(), 0.5);

    /** Both limits inside, ohm. */
    public record Range(double low, double high) {
        public Range {
            Require.that(low >= 0 && low < high && high <= 1e9, "low must be 0 or more and below high, were %s and %s", low, high);
        }

        public boolean holds(double ohm) {
            return ohm >= low && ohm <= high;
        }
    }

    /** The minutes that a test takes. */
    public double minutes(TestKind test) {
        return testMinutes.getOrDefault(test, test.minutes());
    }

    public CheckPolicy {
        Map<TestKind, Double> copy = new EnumMap<>(TestKind.class);
        testMinutes.forEach((test, minutes) -> {
            Require.that(minutes > 0 && minutes <= 1440, "the minutes of %s must be above 0 and at most 1440, was %s", test.word(), minutes);
            copy.put(test, minutes);
        });
        testMinutes = Collections.unmodifiableMap(copy);
        Require.that(terminatorTolerance > 0 && terminatorTolerance <= 0.5, "terminatorTolerance must be above 0 and at most 0.5, was %s",
                terminatorTolerance);
        Require.that(terminatorSpread > 0 && terminatorSpread <= 0.5, "terminatorSpread must be above 0 and at most 0.5, was %s", terminatorSpread);
        Require.that(leadOhm >= 0 && leadOhm <= 1000, "leadOhm must be from 0 to 1000, was %s", leadOhm);
        Require.that(lowSupplyVoltsPer12 >= 0 && lowSupplyVoltsPer12 <= 12, "lowSupplyVoltsPer12 must be from 0 to 12, was %s", lowSupplyVoltsPer12);
        Require.that(provenRepair > 0 && provenRepair <= 1, "provenRepair must be above 0 and at most 1, was %s", provenRepair);
    }
}
