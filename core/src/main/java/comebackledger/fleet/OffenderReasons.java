package comebackledger.fleet;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Why a unit stands where it stands, in words a person can repeat. */
final class OffenderReasons {
    private OffenderReasons() {}

    /** @param peers the units it is set beside, without itself; @param expected returns of a mean one of them in this exposure */
    record Beside(int peers, double expected, double probabilityWorst, double worstShare) {}

    static List<String> of(int returns, Offenders.Exposure exposure, Beside beside, int noFaultFound) {
        List<String> reasons = new ArrayList<>();
        String over = exposure.km().isPresent() ? thousands(exposure.km().get()) + " km" : Math.round(exposure.days()) + " days";
        String counted = (returns == 1 ? "1 return" : returns + " returns") + " in " + over;
        reasons.add(beside.peers() == 0
                ? counted + "; no other unit with exposure was asked about, so there is nobody to set it beside, and its place says nothing."
                : String.format(Locale.ROOT, "%s where its peers have %s; odds %s that it is among the worst %s %%.", counted,
                        few(beside.expected()), odds(beside.probabilityWorst()), percent(beside.worstShare())));
        if (exposure.km().isEmpty()) {
            reasons.add("Its distance is not known, so it is compared by days.");
        } else if (exposure.estimated()) {
            reasons.add("Part of the distance is estimated from usual usage.");
        }
        if (noFaultFound > 0) {
            reasons.add((noFaultFound == 1 ? "1 visit" : noFaultFound + " visits") + " with codes and no fault found besides, not counted.");
        }
        return List.copyOf(reasons);
    }

    /** A mean number of returns; none is never said where there are some. */
    private static String few(double returns) {
        return returns < 0.005 ? "below 0.01" : String.format(Locale.ROOT, returns < 0.095 ? "%.2f" : "%.1f", returns);
    }

    private static String odds(double probability) {
        long of100 = Math.round(probability * 100);
        return of100 == 100 ? "above 99 in 100" : of100 == 0 ? "below 1 in 100" : of100 + " in 100";
    }

    private static String percent(double share) {
        double percent = share * 100;
        return Math.abs(percent - Math.rint(percent)) < 1e-9 ? Long.toString(Math.round(percent)) : String.format(Locale.ROOT, "%.1f", percent);
    }

    /** To the nearest thousand where that keeps two digits. */
    static String thousands(double km) {
        long shown = km < 10_000 ? Math.round(km) : Math.round(km / 1000) * 1000;
        return String.format(Locale.ROOT, "%,d", shown).replace(',', ' ');
    }
}
