package comebackledger.ledger;

import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import java.time.Instant;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/**
 * What is true of a unit at an instant: its open trails, flags, lamps, meters. The view is made when it is first asked for: who records a visit need not
 * look at all that is known of its unit, nor keep other writers waiting for it.
 */
public final class Standing {
    private final Unit unit;
    private final Instant asOf;
    private final Supplier<UnitView> making;
    private @Nullable UnitView made;

    /** @param view of values that no longer change */
    public Standing(Unit unit, Instant asOf, Supplier<UnitView> view) {
        this.unit = unit;
        this.asOf = asOf;
        this.making = view;
    }

    public Unit unit() {
        return unit;
    }

    public Instant asOf() {
        return asOf;
    }

    /** Two threads that ask at once make it twice, and alike. */
    public UnitView view() {
        UnitView known = made;
        if (known == null) {
            known = making.get();
            made = known;
        }
        return known;
    }
}
