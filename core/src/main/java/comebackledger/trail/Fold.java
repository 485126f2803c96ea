package comebackledger.trail;

import comebackledger.judge.VisitFacts;
import comebackledger.policy.Policy;
import java.util.List;

/**
 * The left fold over the visits of a unit, in order of arrival and then of identifier: {@code state' = step(state, visit)}. A rebuild is the same
 * fold from the empty state, so incremental and rebuilt answers are equal by construction. A visit in order costs one step.
 */
public final class Fold {
    private Fold() {}

    /** The state after one more visit; the visit must come after every visit in the state. */
    public static UnitState step(UnitState before, VisitFacts visit, Policy policy) {
        return new FoldStep(before, visit, policy).after();
    }

    /** The fold of all visits from the empty state. */
    public static UnitState of(List<VisitFacts> visits, Policy policy) {
        UnitState state = UnitState.EMPTY;
        for (VisitFacts visit : visits) {
            state = step(state, visit, policy);
        }
        return state;
    }
}
