package comebackledger.trail;

import java.time.Instant;

/**
 * A module that was silent when it was last called.
 *
 * @param repairedSince something of its network was done after
 * @param claimedSince a claimed repair of its network came after
 */
public record SilenceState(String network, String module, String visit, Instant at, boolean repairedSince, boolean claimedSince) {}
