package comebackledger.policy;

import comebackledger.Require;
import java.util.Collections;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;

/**
 * Limits of the dispatch answer.
 *
 * @param holdFaults faults of a safety network that hold the unit
 */
public record ReadinessPolicy(double riskCaution, double riskHold, double standardTripKm, SortedSet<String> holdFaults) {
    /** Common practice, no source. */
    public static final ReadinessPolicy DEFAULT = new ReadinessPolicy(0.2, 0.5, 800,
            new TreeSet<>(Set.of("trunk-open", "trunk-short-high-low", "short-to-ground", "short-to-supply")));

    public ReadinessPolicy {
        Require.that(riskCaution > 0 && riskCaution <= 1, "riskCaution must be above 0 and at most 1, was %s", riskCaution);
        Require.that(riskHold >= riskCaution && riskHold <= 1, "riskHold must be from riskCaution to 1, was %s", riskHold);
        Require.that(standardTripKm > 0 && standardTripKm <= 1e5, "standardTripKm must be above 0 and at most 100 000, was %s", standardTripKm);
        holdFaults = Collections.unmodifiableSortedSet(new TreeSet<>(holdFaults));
    }
}
