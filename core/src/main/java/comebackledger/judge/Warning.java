package comebackledger.judge;

/** Evidence that contradicts other evidence: kept, and left out of what it would spoil. */
public record Warning(String pointer, String detail) {}
