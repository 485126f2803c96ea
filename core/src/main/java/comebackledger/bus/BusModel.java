package comebackledger.bus;

import comebackledger.Require;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** What a meter reads on a network with these faults: the model run forward, on the build as told and nothing else. */
public final class BusModel {
    /** Half the 5 V transceiver supply: bias of a powered, resting node (transceiver data sheets, CAN bus states; ISO 11898-2, from memory). */
    static final double BIAS_VOLT = 2.5;
    /** Common practice, no source: a middle value of the receivers' input resistors, where the build tells none. */
    static final double BIAS_OHM = 30_000;

    private BusModel() {}

    /**
     * Where the meter is and what it is.
     *
     * @param powered with the power on the voltages are predicted as well; resistances always speak of the power off
     * @param leadOhm both leads together; they add to every reading that is not open
     * @param atModule the module at whose pins it is read; empty: the diagnostic connector
     */
    public record Meter(boolean powered, double supplyVolt, double leadOhm, Optional<String> atModule) {
        public Meter {
            Require.that(supplyVolt >= 0 && supplyVolt <= 100, "supplyVolt must be from 0 to 100, was %s", supplyVolt);
            Require.that(leadOhm >= 0 && leadOhm <= 1000, "leadOhm must be from 0 to 1000, was %s", leadOhm);
        }
    }

    /** @throws IllegalArgumentException if a fault names a part that the circuit does not have, or a place beyond its trunk */
    public static Predicted readings(Circuit circuit, List<Fault> faults, Meter meter) {
        Predicted off = Predicted.of(seen(circuit, faults, meter, false), meter.leadOhm());
        return meter.powered() ? off.withVoltagesOf(seen(circuit, faults, meter, true)) : off;
    }

    private static Mesh seen(Circuit circuit, List<Fault> faults, Meter meter, boolean powered) {
        Trunk trunk = new Trunk(circuit, Assumed.NOTHING, powered, meter.supplyVolt());
        Trunk.Laid laid = trunk.lay(faults);
        if (meter.atModule().isEmpty()) {
            return laid.atConnector();
        }
        int node = trunk.layout.node(meter.atModule().get());
        Require.that(node != Tap.NONE, "at must be one of the build's modules, was %s", meter.atModule().get());
        return laid.atModule(node);
    }

    static OptionalDouble told(double value) {
        return Double.isNaN(value) ? OptionalDouble.empty() : OptionalDouble.of(value);
    }
}
