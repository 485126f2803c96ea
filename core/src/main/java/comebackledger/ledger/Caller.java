package comebackledger.ledger;

/** On whose behalf something is done: the fleet whose rows are touched, and the name that changes are recorded under. */
public record Caller(String fleet, String name) {}
