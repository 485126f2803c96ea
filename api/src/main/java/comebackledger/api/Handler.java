package comebackledger.api;

/** Reads a request, asks the ledger, writes the answer. */
@FunctionalInterface
interface Handler {
    void answer(Exchange exchange);
}
