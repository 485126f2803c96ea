package comebackledger.visit;

import comebackledger.measure.Quantity;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One test of the charge-air system. Pressures are gauge but {@code ambientPressure}.
 *
 * @param leaksAt where leaks were seen; not sent: nobody looked
 */
public record ChargeAirTest(Stage stage, AirMethod method, Optional<Quantity> testPressure, Optional<Quantity> flow,
        Optional<FlowReference> flowReference,
        Optional<Quantity> meterPressure, Optional<AirBackground> background, Optional<Quantity> airTemperature, Optional<Quantity> ambientPressure,
        Optional<Quantity> altitude, OptionalDouble dischargeCoefficient, Optional<Quantity> volume, Optional<Quantity> startPressure,
        Optional<Quantity> endPressure, Optional<Quantity> duration, Optional<Quantity> startTemperature, Optional<Quantity> endTemperature,
        Optional<List<String>> leaksAt) {
    public ChargeAirTest {
        leaksAt = leaksAt.map(List::copyOf);
    }
}
