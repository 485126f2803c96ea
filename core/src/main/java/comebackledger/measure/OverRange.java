package comebackledger.measure;

/** A meter beyond its range, as an ohmmeter on an open circuit; never a number. */
public record OverRange(UnitOfMeasure unit) implements Reading {}
