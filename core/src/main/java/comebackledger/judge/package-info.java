/**
 * One visit: every test and code judged against the unit's build, and the evidence merged into occurrences.
 *
 * <p>Doors: {@link comebackledger.judge.VisitJudge} (a visit to its {@link comebackledger.judge.VisitFacts}) and
 * {@link comebackledger.judge.Occurrences} (facts, and what codes were seen before, to occurrences). Turns a build into the circuit that
 * {@code bus} knows and into the system that {@code air} knows; knows no earlier visit but the last count of each code.
 *
 * <p><b>Decisions.</b> Facts are made from one visit alone and kept, so that a late visit refolds without judging the others again. The bus
 * check weighs the visit's own codes by their status; whether a code counts needs history and is decided in the fold. So a visit's suspects are
 * those of its own evidence; what was repaired before shifts the odds only where history is known: the briefing has the visit judged again with
 * the unit's proven repairs ({@link comebackledger.judge.BusJudge#again}).
 */
@NullMarked
package comebackledger.judge;

import org.jspecify.annotations.NullMarked;
