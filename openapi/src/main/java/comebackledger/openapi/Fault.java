package comebackledger.openapi;

/**
 * One thing wrong with what was sent.
 *
 * @param pointer a JSON pointer (RFC 6901), or {@code ?name} for a query parameter
 * @param detail what is wrong, what is allowed, what to do
 */
public record Fault(String pointer, String detail) {}
