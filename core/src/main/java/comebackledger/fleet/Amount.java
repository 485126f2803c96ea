package comebackledger.fleet;

/** How much of a measure; {@code estimated} where usage stands for a meter. */
public record Amount(double value, boolean estimated) {}
