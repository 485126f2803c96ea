package comebackledger.api.picture;

import comebackledger.api.picture.StepPicture.Axes;
import comebackledger.api.picture.StepPicture.Curve;
import comebackledger.api.picture.StepPicture.Step;
import comebackledger.fleet.Holds;
import comebackledger.fleet.Measure;
import comebackledger.fleet.Recurrence;
import comebackledger.measure.UnitOfMeasure;
import comebackledger.openapi.FleetMapping;
import comebackledger.policy.Policy.Display;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

/** The planner's curves: how long repairs hold, and how episodes add up. */
public final class FleetPictures {
    private static final double MILES_PER_KM = 1 / UnitOfMeasure.MILE.toSi(1);

    private FleetPictures() {}

    /** A curve for each action; the actions with the most repairs where there are too many. */
    public static String holds(Holds holds, Measure measure, Display display) {
        double scale = scale(measure, display);
        String unit = unit(measure, display);
        List<Holds.Item> shown = holds.items().stream().filter(item -> item.cause().isEmpty())
                .sorted(Comparator.comparingInt(item -> -item.repairs()))
                .limit(StepPicture.CURVES_AT_MOST).toList();
        String words = shown.stream().map(item -> item.action() + ": " + item.repairs() + " repairs, " + item.returned() + " returned"
                + StepPicture.rounded(item.curve().median(), scale).map(median -> ", half by " + median + " " + unit).orElse(""))
                .collect(Collectors.joining("; "));
        Axes axes = new Axes("How long repairs hold", words.isEmpty() ? "No repair is recorded." : words + ".", unit + " since the repair",
                "Share still holding, with 95 % limits", scale, true, "Repairs still watched");
        return StepPicture.of(axes, shown.stream().map(FleetPictures::curve).toList());
    }

    private static Curve curve(Holds.Item item) {
        List<Step> steps = FleetMapping.thinned(item.curve().points()).stream()
                .map(point -> new Step(point.at(), point.holding(), point.low(), point.high())).toList();
        return new Curve(item.action(), 1, steps, item.watched().getLast(), item::atRisk);
    }

    /** One curve of the mean number of episodes a unit. */
    public static String recurrence(Recurrence recurrence, Measure measure, Display display) {
        double scale = scale(measure, display);
        String unit = unit(measure, display);
        String told = recurrence.points().isEmpty()
                ? "no episode yet"
                : String.format(Locale.ROOT, "%.2f episodes a unit on average by %s %s", recurrence.points().getLast().mean(),
                        StepPicture.rounded(OptionalDouble.of(recurrence.points().getLast().at()), scale).orElse(""), unit);
        Axes axes = new Axes("Episodes a unit", recurrence.watched().size() + " units watched; " + told + ".", unit + " since first seen",
                "Mean number of episodes, with 95 % limits", scale, false, "Units still watched");
        List<Step> steps = FleetMapping.thinned(recurrence.points()).stream()
                .map(point -> new Step(point.at(), point.mean(), point.low(), point.high()))
                .toList();
        List<Curve> curves = recurrence.watched().isEmpty()
                ? List.of()
                : List.of(new Curve("all", 0, steps, recurrence.watched().getLast(), recurrence::atRisk));
        return StepPicture.of(axes, curves);
    }

    private static double scale(Measure measure, Display display) {
        return measure == Measure.KM && display == Display.US ? MILES_PER_KM : 1;
    }

    private static String unit(Measure measure, Display display) {
        return switch (measure) {
            case KM -> display == Display.US ? "miles" : "km";
            case DAYS -> "days";
            case ENGINE_HOURS -> "engine hours";
        };
    }
}
