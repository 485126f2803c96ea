package comebackledger.ledger;

/**
 * The storage port: what the ledger needs kept. Every key begins with the fleet, so one fleet never sees another's rows.
 *
 * <p>What a store promises: a transaction is whole or absent; when {@link #write} returns, its rows are on disk as far as the engine syncs;
 * two writers who lock the same unit run one after the other; changes become visible in the order of their positions.
 */
public interface Store extends AutoCloseable {
    /**
     * Runs the work in one transaction and commits it. The work may run again after a conflict, so it touches nothing but its transaction.
     *
     * @throws StoreUnavailableException if the engine cannot be reached or the conflict does not end
     */
    <T> T write(String fleet, Work<T> work);

    /**
     * Runs the work against one consistent view and changes nothing.
     *
     * @throws StoreUnavailableException if the engine cannot be reached
     */
    <T> T read(String fleet, Work<T> work);

    /**
     * How far a fleet has come, at least by every transaction that was acknowledged before the call: a store that nobody else can write to knows it without
     * a transaction.
     *
     * @throws StoreUnavailableException if the engine cannot be reached
     */
    default Stored.Mark mark(String fleet) {
        return read(fleet, Transaction::mark);
    }

    /** The fleets that hold anything, in order. */
    java.util.List<String> fleets();

    @Override
    void close();

    /** What runs inside a transaction. */
    interface Work<T> {
        T in(Transaction transaction);
    }
}
