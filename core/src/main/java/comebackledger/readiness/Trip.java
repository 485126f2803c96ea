package comebackledger.readiness;

import comebackledger.Require;
import comebackledger.baseline.Outlook;
import java.util.OptionalDouble;

/** The trip asked for; without any measure, the policy's standard trip. */
public record Trip(OptionalDouble distanceKm, OptionalDouble engineHours) {
    public static final Trip STANDARD = new Trip(OptionalDouble.empty(), OptionalDouble.empty());

    public Trip {
        Require.that(distanceKm.isEmpty() || distanceKm.getAsDouble() > 0 && distanceKm.getAsDouble() <= 1e5,
                "distanceKm must be above 0 and at most 100 000");
        Require.that(engineHours.isEmpty() || engineHours.getAsDouble() > 0 && engineHours.getAsDouble() <= 1e4,
                "engineHours must be above 0 and at most 10 000");
    }

    /** As it was asked for, else the policy's standard trip. */
    Outlook.Trip or(double standardKm) {
        boolean asked = distanceKm.isPresent() || engineHours.isPresent();
        return new Outlook.Trip(asked ? distanceKm : OptionalDouble.of(standardKm), engineHours);
    }
}
