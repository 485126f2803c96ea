package comebackledger.trail;

import java.time.Instant;

/** What the latest charge-air test that told a loss said, and whether the charge air was repaired since. */
public record LossState(String visit, Instant at, double shareOfEngineAir, boolean repairedSince, boolean claimedSince) {}
