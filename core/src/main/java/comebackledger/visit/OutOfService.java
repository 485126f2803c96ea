package comebackledger.visit;

/** 49 CFR 396.9(c): declared out of service, and whether all required repairs were completed. */
public record OutOfService(boolean declared, boolean requiredRepairsCompleted) {}
