package comebackledger.ledger;

import comebackledger.policy.Policy;
import comebackledger.unit.Unit;
import comebackledger.visit.Visit;

/** The codec port: kept documents back to the model, and derived rows to bytes and back. */
public interface Codec {
    /** A unit from the document it was recorded with. */
    Unit unit(String id, String document);

    /** A visit from the evidence it was recorded with. */
    Visit visit(String id, String evidence);

    Policy policy(String document);

    /** Derived content as bytes: equal content gives equal bytes. */
    byte[] encode(Object derived);

    <T> T decode(byte[] bytes, Class<T> type);
}
