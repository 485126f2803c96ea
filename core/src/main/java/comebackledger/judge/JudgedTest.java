package comebackledger.judge;

import comebackledger.air.ChargeAirResult;

/** One test of a visit with its verdict and what the calculation answered. */
public sealed interface JudgedTest {
    /** Where in the evidence it stands. */
    String pointer();

    Verdict verdict();

    record Air(String pointer, Verdict verdict, ChargeAirResult result) implements JudgedTest {}
}
