package comebackledger.unit;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One CAN trunk.
 *
 * @param safety a fault of it holds the unit
 * @param wireOhmPerMetre of one conductor
 * @param terminators in the order of the trunk; not sent: two of 120 ohm, one at each end
 * @param supplyToGroundOhm loads left between the disconnected positive cable and ground
 * @param nodes in the order of the trunk
 */
public record Network(String name, boolean safety, OptionalDouble trunkMetres, OptionalDouble wireOhmPerMetre, Optional<List<Terminator>> terminators,
        Optional<Connector> connector, OptionalDouble supplyToGroundOhm, Optional<List<Node>> nodes) {
    public Network {
        terminators = terminators.map(List::copyOf);
        nodes = nodes.map(List::copyOf);
    }

    public Optional<Node> node(String module) {
        return nodes.flatMap(list -> list.stream().filter(node -> node.module().equals(module)).findFirst());
    }
}
