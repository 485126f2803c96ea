package comebackledger.trail;

import java.time.Instant;

/** The last report of one lamp. */
public record LampState(boolean on, String visit, Instant at) {}
