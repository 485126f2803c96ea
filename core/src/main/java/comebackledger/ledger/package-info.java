/**
 * The door: what a host calls, and the ports it fills.
 *
 * <p>One visit, end to end:
 * <ol>
 * <li>A host hands {@link comebackledger.ledger.Ledger#putVisit} decoded {@link comebackledger.ledger.Evidence}; it was found possible in itself.
 * <li>In one transaction of the {@link comebackledger.ledger.Store} the unit is locked and the revision appended; evidence is never changed.
 * <li>{@link comebackledger.judge.VisitJudge} judges its tests and codes against the {@link comebackledger.unit.Build}: the circuit in
 * {@link comebackledger.bus}, the leak in {@link comebackledger.air}, the codes in {@link comebackledger.code}.
 * <li>{@link comebackledger.judge.Occurrences} merges the evidence, one occurrence a place.
 * <li>{@link comebackledger.trail.Fold} steps the unit's state; a late or revised visit refolds from the kept facts.
 * <li>Revision, facts, state, compact row and change rows are committed together, on disk before the answer.
 * </ol>
 * One answer, upward: {@link comebackledger.trail.UnitView} tells what is true at an instant, {@link comebackledger.readiness.Readiness} collects its
 * reasons, {@link comebackledger.ledger.DispatchDesk} asks as of what was known then.
 *
 * <p><b>Decisions.</b>
 * <ul>
 * <li>Derived rows are stamped with the build and policy versions they were made under and are not used under others: a unit is judged again when its
 * build is recorded. A policy that judges and folds alike (thresholds of the answers, age of evidence) takes the rows over as they are; after another one a
 * unit is answered from evidence until its row is made again, which begins at once beside the questions ({@link comebackledger.ledger.Refolding}).
 * Measured on 2 000 units of 10 visits: a question costs as before after the first kind, and 11 ms instead of 0.1 ms until its unit's turn after the
 * second. Alternative: keep rows for every version; reopen it if fleets change their policy daily. Whoever reads all compact rows meets none that was left
 * behind or damaged: {@link comebackledger.ledger.CompactRows} has it made again first.
 * <li>A late or revised visit folds the kept facts from the start: nothing is judged again but the visit itself, and on a unit with 500 visits that costs
 * about twice a visit in order, most of it reading the facts. Alternative: a kept state every so many visits, which each refold would have to replace;
 * reopen it if late visits to units with thousands of visits become usual.
 * <li>Trails, standing and readings at a past instant are what was true then, as known now; readiness is as known then, since an audit must see what
 * dispatch was told.
 * <li>A reading, a lamp or a roll call that nobody reported since stands as last reported: unknown stays unknown, and so does a warning.
 * <li>An import takes its lines in batches, a unit's fold stepped in memory and kept once a batch, units in as many lanes as processors; every line of a
 * batch is committed together. Alternative: one transaction a line, five times dearer; reopen it if a host must see single lines at once.
 * <li>What readiness says of a unit is kept apart from the trip: asked again, for the same trip or another, it is of the moment it was first said while it
 * holds and neither the unit, the policy nor the baseline moved, by the change feed, so that several processes over one store agree. Once all was forgotten,
 * the first question begins a look at every unit beside the questions ({@link comebackledger.ledger.LookAhead}). Alternative: look at a unit for each question;
 * that costs ten times what its risk on one more trip does, and many times more where its rows are not in memory.
 * <li>The standing in the answer to a recorded visit is of the moment it was recorded, and is made when somebody looks at it, after the transaction: a host
 * that does not look does not pay for it, and no writer waits for it.
 * <li>A planner's answer over a large fleet may be as old as twenty times its cost, and says of when it is.
 * <li>What is kept of answers is free to forget.
 * </ul>
 */
@NullMarked
package comebackledger.ledger;

import org.jspecify.annotations.NullMarked;
