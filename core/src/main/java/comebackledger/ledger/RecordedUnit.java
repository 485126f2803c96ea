package comebackledger.ledger;

import comebackledger.unit.Unit;
import java.time.Instant;

/** A unit with the version that is current. */
public record RecordedUnit(Unit unit, String document, int version, Instant recordedAt) {}
