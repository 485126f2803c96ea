package comebackledger.measure;

import comebackledger.Require;
import java.util.OptionalDouble;

/**
 * A measured input in the unit it was measured in.
 *
 * @param standardUncertainty in the same unit, 0 or more; empty where the instrument defaults of the policy hold
 */
public record Quantity(double value, UnitOfMeasure unit, OptionalDouble standardUncertainty) implements Reading {
    public Quantity {
        Require.that(Double.isFinite(value), "value must be a finite number, was %s", value);
        double uncertainty = standardUncertainty.orElse(0);
        Require.that(uncertainty >= 0 && Double.isFinite(uncertainty), "standardUncertainty must be 0 or more, was %s", uncertainty);
    }

    public static Quantity of(double value, UnitOfMeasure unit) {
        return new Quantity(value, unit, OptionalDouble.empty());
    }

    /** In SI: ohm, V, Pa, m3/s, kg/s, K, m, m2, m3, s; km for distances. */
    public double si() {
        return unit.toSi(value);
    }

    /** The stated standard uncertainty in SI, if one was stated. */
    public OptionalDouble siStandardUncertainty() {
        return standardUncertainty.isPresent() ? OptionalDouble.of(unit.differenceToSi(standardUncertainty.getAsDouble())) : OptionalDouble.empty();
    }
}
