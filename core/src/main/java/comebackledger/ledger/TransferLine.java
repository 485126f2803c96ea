package comebackledger.ledger;

import comebackledger.policy.Policy;
import comebackledger.unit.Unit;
import comebackledger.visit.Visit;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalInt;

/** One line of an import. What an export adds, the version or revision and the instant, is kept where it is given. */
public sealed interface TransferLine {
    record OfUnit(Evidence<Unit> evidence, OptionalInt version, Optional<Instant> recordedAt) implements TransferLine {}

    /** A unit that a table of visits names: registered if it is not yet, else left as it is. */
    record OfUnitNamed(Evidence<Unit> evidence) implements TransferLine {}

    record OfVisit(String unit, Evidence<Visit> evidence, OptionalInt revision, Optional<Instant> receivedAt) implements TransferLine {}

    record OfPolicy(Evidence<Policy> evidence, int version, Instant recordedAt) implements TransferLine {}

    @SuppressWarnings("ArrayRecordComponent") // opaque bytes, never compared
    record OfBaseline(int version, Instant learnedAt, byte[] content) implements TransferLine {}
}
