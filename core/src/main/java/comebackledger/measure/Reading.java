package comebackledger.measure;

/** What a meter showed: a number, or that it was beyond its range. */
public sealed interface Reading permits Quantity, OverRange {
    UnitOfMeasure unit();
}
