package comebackledger.ledger;

/** What became of something sent; a host must decide about every case. */
public sealed interface Outcome<T> {
    /** Kept, and new. */
    record Created<T>(T answer) implements Outcome<T> {}

    /** Kept as a new version or revision. */
    record Replaced<T>(T answer) implements Outcome<T> {}

    /** The same content again: nothing changed. */
    record Unchanged<T>(T answer) implements Outcome<T> {}

    /** The unit is not registered. */
    record UnitUnknown<T>() implements Outcome<T> {}

    /** Changed content must name the revision it replaces. */
    record RevisionRequired<T>(int current) implements Outcome<T> {}

    /** Another revision is current; 0 where none is. */
    record Stale<T>(int current) implements Outcome<T> {}
}
