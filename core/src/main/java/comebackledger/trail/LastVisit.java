package comebackledger.trail;

import java.time.Instant;
import java.util.Optional;

/** The latest visit by arrival. */
public record LastVisit(String visit, Instant arrivedAt, Optional<Instant> releasedAt) {}
