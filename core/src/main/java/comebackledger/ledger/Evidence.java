package comebackledger.ledger;

/**
 * What was received: decoded and found possible in itself, and its text as sent, save white space.
 *
 * @param decoded two receipts are the same content when these are equal
 */
public record Evidence<T>(T decoded, String document) {}
