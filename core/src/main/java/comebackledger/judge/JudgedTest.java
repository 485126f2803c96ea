package comebackledger.judge;

/** One test of a visit with its verdict. */
public record JudgedTest(String pointer, Verdict verdict) {}
