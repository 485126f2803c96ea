/**
 * The fold: visits to occurrences, episodes, trails and flags.
 *
 * <p>Doors: {@link comebackledger.trail.Fold} (one step a visit), {@link comebackledger.trail.UnitState} (what it keeps) and
 * {@link comebackledger.trail.UnitView} (what is true of the unit at an instant).
 *
 * <p><b>Decisions.</b> The state holds facts only, judged and folded under one build and one policy, whose versions are kept beside it; when
 * either changes, the unit is folded again. What ages (repeat windows, quiet by waiting, flags) is decided in the view, so that nothing
 * stored goes stale. A window ends for the view by days, or by a meter read at a visit, never by an estimate.
 */
@NullMarked
package comebackledger.trail;

import org.jspecify.annotations.NullMarked;
