package comebackledger.judge;

/** What a test says of its system. */
public enum Verdict {
    WITHIN, OUTSIDE, INVALID, UNJUDGED
}
