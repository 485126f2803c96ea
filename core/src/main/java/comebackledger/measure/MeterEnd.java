package comebackledger.measure;

import java.time.Instant;

/**
 * Where a {@link MeterLine} ends: the newest reading that it keeps, and how it counts. Enough to tell whether one reading more runs on from it.
 *
 * @param piece the unbroken piece it belongs to
 * @param offset from what the meter shows to the life total
 * @param shown km or h
 */
public record MeterEnd(int piece, double offset, double shown, Instant at) {}
