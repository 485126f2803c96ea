package comebackledger.unit;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What the unit is built of, as far as it is known.
 *
 * @param supplyVolts nominal, 12 or 24
 */
public record Build(OptionalDouble supplyVolts, Optional<List<Network>> networks, Optional<ChargeAir> chargeAir, Optional<Engine> engine) {
    public static final Build UNKNOWN = new Build(OptionalDouble.empty(), Optional.empty(), Optional.empty(), Optional.empty());

    public Build {
        networks = networks.map(List::copyOf);
    }

    public Optional<Network> network(String name) {
        return networks.flatMap(list -> list.stream().filter(network -> network.name().equals(name)).findFirst());
    }
}
