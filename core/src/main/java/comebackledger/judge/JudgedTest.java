package comebackledger.judge;

import comebackledger.air.ChargeAirResult;
import comebackledger.bus.BusVerdict;

/** One test of a visit with its verdict and what the calculation answered. */
public sealed interface JudgedTest {
    /** Where in the evidence it stands. */
    String pointer();

    Verdict verdict();

    /** @param system the network's place */
    record Bus(String pointer, Verdict verdict, String system, BusVerdict result) implements JudgedTest {}

    record Air(String pointer, Verdict verdict, ChargeAirResult result) implements JudgedTest {}
}
