package comebackledger.ledger;

import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import java.time.Instant;

/** What is true of a unit at an instant: its open trails, flags, lamps, meters. */
public record Standing(Unit unit, Instant asOf, UnitView view) {}
