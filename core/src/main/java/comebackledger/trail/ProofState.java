package comebackledger.trail;

import java.time.Instant;
import java.util.List;

/** A passing test of the repaired system. */
public record ProofState(String visit, Instant at, List<String> evidence) {}
