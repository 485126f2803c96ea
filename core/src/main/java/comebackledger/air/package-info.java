/**
 * How big is a charge-air leak, how sure are we of it, and what does it cost on the road?
 *
 * <p>Door: {@link comebackledger.air.ChargeAirJudge}. Pure physics in SI: gauge pressures say so, all others are absolute. Knows no unit, visit
 * or policy.
 *
 * <p><b>Decisions.</b> Every leak is carried as an effective area (discharge coefficient times hole area): it does not depend on the test
 * pressure, areas of parallel holes add, and a background leak is an area to take off. Uncertainties are propagated by differences of one
 * standard uncertainty each way (JCGM 100:2008, 5.1.3, note 2), which needs no derivative of the decay integral. The equivalent orifice is
 * stated at a fixed discharge coefficient, so that readings of one leak compare over visits; the coefficient's own spread is not in it.
 */
@NullMarked
package comebackledger.air;

import org.jspecify.annotations.NullMarked;
