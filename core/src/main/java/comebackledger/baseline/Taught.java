package comebackledger.baseline;

import comebackledger.trail.Flag;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** A unit's view with what the fleet and the trend tests add to it: the flags on whole systems, and the chance of a new episode on a trip. */
public final class Taught {
    private final UnitView view;
    private final Drifts drifts;
    private final Usage usage;
    private final Optional<Outlook> outlook;

    private Taught(UnitView view, Drifts drifts, Usage usage, Optional<Outlook> outlook) {
        this.view = view;
        this.drifts = drifts;
        this.usage = usage;
        this.outlook = outlook;
    }

    /** @param baseline empty where nothing was learned yet: then nothing is said of peers */
    public static Taught of(Unit unit, UnitView view, Optional<Baseline> baseline) {
        return of(unit, view, UnitSummary.of(unit, view), baseline);
    }

    /** As {@link #of(Unit, UnitView, Optional)}, the compact row of the same state being made already. */
    public static Taught of(Unit unit, UnitView view, UnitSummary summary, Optional<Baseline> baseline) {
        Usage usage = Usage.own(summary, view.at()).or(baseline.map(known -> known.usage(unit.group())).orElse(Usage.UNKNOWN));
        Drifts drifts = Drifts.of(view, usage.kmPerDay());
        List<Flag> flags = new ArrayList<>();
        baseline.ifPresent(known -> flags.addAll(new Frequency(summary, view.at(), known).flags()));
        flags.addAll(Acceleration.flags(summary, view.at()));
        flags.addAll(drifts.flags());
        return new Taught(view.with(flags, drifts.starts()), drifts, usage, baseline.map(known -> new Outlook(summary, known, drifts)));
    }

    /** The view with every flag. */
    public UnitView view() {
        return view;
    }

    /** The drifting flags whose crossing falls inside a trip from the view's instant. */
    public List<Flag> driftingOn(Outlook.Trip trip) {
        return drifts.on(trip, usage, view.at());
    }

    /** The instants at which a crossing comes into the trip. */
    public List<Instant> changes(Outlook.Trip trip) {
        return drifts.tripStarts(trip, usage);
    }

    /** At the view's instant or later, with no new evidence. */
    public Outlook.Answer chance(Outlook.Trip trip, Instant at) {
        return outlook.map(known -> known.at(at, trip)).orElse(new Outlook.Answer.Absent("No baseline has been learned from the fleet yet."));
    }
}
