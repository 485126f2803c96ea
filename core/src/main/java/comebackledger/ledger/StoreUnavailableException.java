package comebackledger.ledger;

/** The engine behind the store cannot be reached or does not answer in time; trying again later is right. */
public final class StoreUnavailableException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    public StoreUnavailableException(String message, Throwable cause) {
        super(message, cause);
    }
}
