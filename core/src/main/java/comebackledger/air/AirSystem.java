package comebackledger.air;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What is known of the charge-air system and its engine.
 *
 * @param ratedBoostPa gauge
 * @param maxTestPa gauge, the maker's limit
 */
public record AirSystem(OptionalDouble ratedBoostPa, OptionalDouble maxTestPa, OptionalDouble chargeKelvin, OptionalDouble volumeM3,
        Optional<EngineAir> engine) {
    public AirSystem withVolumeM3(double volume) {
        return new AirSystem(ratedBoostPa, maxTestPa, chargeKelvin, OptionalDouble.of(volume), engine);
    }
}
