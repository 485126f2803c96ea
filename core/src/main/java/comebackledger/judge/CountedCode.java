package comebackledger.judge;

/** A code of a visit, and whether it counts as evidence there; one that does not is history. */
public record CountedCode(CodeFact code, boolean counts) {}
