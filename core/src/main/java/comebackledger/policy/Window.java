package comebackledger.policy;

import comebackledger.Require;

/** A stretch that ends with the first of its measures that is exceeded; days of 24 h. */
public record Window(double days, double km, double engineHours) {
    public Window {
        Require.that(days > 0 && days <= 3650, "days must be above 0 and at most 3650, was %s", days);
        Require.that(km > 0 && km <= 1e7, "km must be above 0 and at most 10 000 000, was %s", km);
        Require.that(engineHours > 0 && engineHours <= 1e5, "engineHours must be above 0 and at most 100 000, was %s", engineHours);
    }
}
