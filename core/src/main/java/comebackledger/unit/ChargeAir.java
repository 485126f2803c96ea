package comebackledger.unit;

import comebackledger.measure.Quantity;
import java.util.List;
import java.util.Optional;

/**
 * The charge-air system between compressor and intake.
 *
 * @param ratedBoost gauge
 * @param maxTestPressure gauge, the maker's limit for a test with shop air
 * @param spots the places it can leak at, by the fleet's own names
 */
public record ChargeAir(Optional<Quantity> ratedBoost, Optional<Quantity> maxTestPressure, Optional<Quantity> chargeTemperature,
        Optional<Quantity> volume,
        Optional<List<String>> spots) {
    public ChargeAir {
        spots = spots.map(List::copyOf);
    }
}
