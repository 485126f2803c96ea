package comebackledger.measure;

import comebackledger.Require;

/** A result that rests on a reading, with its standard uncertainty (JCGM 100:2008, 2.3.1) in the same unit; the field's name tells the unit. */
public record Measured(double value, double standardUncertainty) {
    public Measured {
        Require.that(Double.isFinite(value), "value must be a finite number, was %s", value);
        Require.that(standardUncertainty >= 0 && Double.isFinite(standardUncertainty), "standardUncertainty must be 0 or more, was %s",
                standardUncertainty);
    }
}
