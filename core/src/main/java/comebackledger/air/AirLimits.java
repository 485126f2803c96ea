package comebackledger.air;

import java.util.OptionalDouble;

/** The policy's limits: the share of engine air that may be lost at rated boost, and a hole for systems whose engine is not known. */
public record AirLimits(double maxLossShare, OptionalDouble maxOrificeMm) {}
