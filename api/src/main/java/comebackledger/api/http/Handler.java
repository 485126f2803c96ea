package comebackledger.api.http;

/** Reads a request, asks the ledger, writes the answer. */
@FunctionalInterface
public interface Handler {
    void answer(Exchange exchange);
}
