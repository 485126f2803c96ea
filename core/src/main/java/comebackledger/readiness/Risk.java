package comebackledger.readiness;

import comebackledger.Require;
import comebackledger.baseline.Outlook;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The probability that the unit opens a new episode in a covered system during the trip.
 *
 * @param per the exposure it is for: the measure that was asked for
 * @param basis in words: own history, peers, age of repairs, drift
 * @param baselineVersion of what the fleet taught
 */
public record Risk(double probability, double low, double high, Per per, String basis, int baselineVersion) {
    public Risk {
        Require.that(low >= 0 && low <= probability && probability <= high && high <= 1, "low <= probability <= high within 0 to 1, was %s %s %s",
                low,
                probability, high);
    }

    static Optional<Risk> of(Outlook.Answer answer, Outlook.Trip trip) {
        return switch (answer) {
            case Outlook.Answer.Known known -> Optional.of(new Risk(known.chance().probability(), known.chance().low(), known.chance().high(),
                    new Per(trip.km(), trip.hours(), OptionalDouble.empty()), known.chance().basis(), known.chance().baselineVersion()));
            case Outlook.Answer.Absent _ -> Optional.empty();
        };
    }

    /** Why there is none, where there is none. */
    static Optional<String> absent(Outlook.Answer answer) {
        return switch (answer) {
            case Outlook.Answer.Known _ -> Optional.empty();
            case Outlook.Answer.Absent absent -> Optional.of(absent.why());
        };
    }

    /** The exposure of the trip in the measures that are known. */
    public record Per(OptionalDouble distanceKm, OptionalDouble engineHours, OptionalDouble days) {}
}
