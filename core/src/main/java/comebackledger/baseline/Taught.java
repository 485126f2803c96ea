package comebackledger.baseline;

import comebackledger.trail.Flag;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** A unit's view with what the fleet and the trend tests add to it: the flags on whole systems, and the chance of a new episode on a trip. */
public final class Taught {
    private final UnitView view;
    private final UnitSummary summary;
    private final Drifts drifts;
    private final Usage usage;
    private final Optional<Baseline> baseline;

    private Taught(UnitView view, UnitSummary summary, Drifts drifts, Usage usage, Optional<Baseline> baseline) {
        this.view = view;
        this.summary = summary;
        this.drifts = drifts;
        this.usage = usage;
        this.baseline = baseline;
    }

    /** @param baseline empty where nothing was learned yet: then nothing is said of peers */
    public static Taught of(Unit unit, UnitView view, Optional<Baseline> baseline) {
        return of(view, UnitSummary.of(unit, view), baseline);
    }

    /** @param summary the compact row of the view's state, made whenever */
    public static Taught of(UnitView view, UnitSummary summary, Optional<Baseline> baseline) {
        Usage usage = Usage.own(summary, view.at()).or(baseline.map(known -> known.usage(summary.group())).orElse(Usage.UNKNOWN));
        Drifts drifts = Drifts.of(view, usage.kmPerDay());
        List<Flag> flags = new ArrayList<>();
        baseline.ifPresent(known -> flags.addAll(new Frequency(summary, view.at(), known).flags()));
        flags.addAll(Acceleration.flags(summary, view.at()));
        flags.addAll(drifts.flags());
        return new Taught(view.with(flags, drifts.starts()), summary, drifts, usage, baseline);
    }

    /** The view with every flag. */
    public UnitView view() {
        return view;
    }

    /** The chance of a new episode on a trip, from the view's instant on. */
    public Outlook outlook() {
        return Outlook.of(summary, usage, drifts, baseline, view.at());
    }
}
