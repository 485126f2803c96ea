package comebackledger.openapi;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.ledger.Evidence;
import comebackledger.ledger.RecordedUnit;
import comebackledger.measure.Kind;
import comebackledger.measure.Quantity;
import comebackledger.unit.Build;
import comebackledger.unit.ChargeAir;
import comebackledger.unit.Connector;
import comebackledger.unit.Engine;
import comebackledger.unit.Network;
import comebackledger.unit.Node;
import comebackledger.unit.Terminator;
import comebackledger.unit.Unit;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Function;

/** The body of a unit to core's model. */
public final class UnitMapping {
    static final int NETWORKS_AT_MOST = 32;
    static final int NODES_AT_MOST = 200;
    private static final double METRES_AT_MOST = 1000;
    private static final double OHM_AT_MOST = 1e9;
    private static final double NOMINAL_TERMINATOR_OHM = 120; // SAE J1939-11, ISO 11898-2 (from memory)

    private UnitMapping() {}

    /** @throws Problem 400 or 422 with every fault */
    public static Evidence<Unit> toCore(String id, byte[] body) {
        JsonNode node = Json.object(body);
        return new Evidence<>(toCore(id, node), Json.compact(body));
    }

    static Unit toCore(String id, JsonNode node) {
        Faults faults = new Faults();
        Optional<Unit> unit = unit(id, Fields.of(node, faults));
        faults.throwIfAny();
        return unit.orElseThrow();
    }

    /** A unit whose identifier stands outside the object read. */
    public static Optional<Unit> unit(String id, Fields fields) {
        Optional<String> group = fields.identifier("group");
        Optional<Instant> inService = fields.time("inServiceAt");
        Optional<Instant> retired = fields.time("retiredAt");
        if (inService.isPresent() && retired.isPresent() && retired.get().isBefore(inService.get())) {
            fields.fault("retiredAt", "The retirement lies before `inServiceAt`. Check both times and their offsets.");
        }
        SortedMap<String, String> tags = fields.object("tags").map(UnitMapping::tags).orElseGet(TreeMap::new);
        Optional<Build> build = fields.object("build").map(UnitMapping::build).orElse(Optional.of(Build.UNKNOWN));
        return fields.build(() -> new Unit(id, group, inService, retired, tags, build.orElseThrow()));
    }

    private static SortedMap<String, String> tags(Fields fields) {
        SortedMap<String, String> tags = new TreeMap<>();
        List<String> names = fields.memberNames();
        if (names.size() > 64) {
            fields.faults().add(fields.pointer(), "A unit has at most 64 tags.");
            return tags;
        }
        for (String name : names) {
            if (!Fields.isIdentifier(name)) {
                fields.fault(name, "A tag's name must be 1 to 64 letters, digits, dots, underscores or hyphens.");
            } else {
                fields.text(name).ifPresent(value -> {
                    if (value.isEmpty() || value.length() > 100) {
                        fields.fault(name, "A tag's value must have 1 to 100 characters.");
                    }
                    tags.put(name, value);
                });
            }
        }
        return tags;
    }

    private static Optional<Build> build(Fields fields) {
        OptionalDouble supply = fields.number("supplyVolts", 6, 48);
        Optional<List<Network>> networks = fields.has("networks")
                ? Optional.of(fields.list("networks", NETWORKS_AT_MOST, UnitMapping::network))
                : Optional.empty();
        networks.ifPresent(list -> unique(fields, "networks", list, Network::name));
        Optional<ChargeAir> chargeAir = fields.object("chargeAir").flatMap(UnitMapping::chargeAir);
        Optional<Engine> engine = fields.object("engine").flatMap(UnitMapping::engine);
        return fields.build(() -> new Build(supply, networks, chargeAir, engine));
    }

    private static <T> void unique(Fields fields, String name, List<T> list, Function<T, String> key) {
        Set<String> seen = new HashSet<>();
        for (int i = 0; i < list.size(); i++) {
            if (!seen.add(key.apply(list.get(i)))) {
                fields.faults().add(fields.pointer(name) + "/" + i, "The name stands twice in this list. Give each its own.");
            }
        }
    }

    /** A network as in a build; the calculations take it too. */
    public static Optional<Network> network(Fields fields) {
        return network(fields, fields.required("name", fields.name("name")));
    }

    /** A network whose name may be left out, as in a calculation. */
    public static Optional<Network> anyNetwork(Fields fields) {
        return network(fields, fields.name("name").or(() -> Optional.of("network")));
    }

    private static Optional<Network> network(Fields fields, Optional<String> name) {
        boolean safety = fields.flag("safety").orElse(false);
        OptionalDouble trunk = fields.number("trunkMetres", 0, METRES_AT_MOST);
        OptionalDouble wire = fields.number("wireOhmPerMetre", 0, 10);
        double end = trunk.orElse(METRES_AT_MOST);
        Optional<List<Terminator>> terminators = fields.has("terminators") ? Optional.of(terminators(fields, end)) : Optional.empty();
        Optional<Connector> connector = fields.object("connector").flatMap(at -> connector(at, end));
        OptionalDouble supplyToGround = fields.number("supplyToGroundOhm", 0, OHM_AT_MOST);
        Optional<List<Node>> nodes = fields.has("nodes")
                ? Optional.of(fields.list("nodes", NODES_AT_MOST, node -> node(node, end)))
                : Optional.empty();
        nodes.ifPresent(list -> unique(fields, "nodes", list, Node::module));
        nodes.ifPresent(list -> inOrder(fields, list));
        return fields.build(() -> new Network(name.orElseThrow(), safety, trunk, wire, terminators, connector, supplyToGround, nodes));
    }

    private static void inOrder(Fields fields, List<Node> nodes) {
        double last = 0;
        for (int i = 0; i < nodes.size(); i++) {
            OptionalDouble at = nodes.get(i).atMetres();
            if (at.isPresent() && at.getAsDouble() < last) {
                fields.faults().add(fields.pointer("nodes") + "/" + i + "/atMetres",
                        "Nodes stand in the order of the trunk; this one lies before an earlier one.");
            }
            last = Math.max(last, at.orElse(last));
        }
    }

    private static List<Terminator> terminators(Fields fields, double end) {
        List<Fields> objects = fields.objects("terminators");
        List<Terminator> found = new ArrayList<>();
        for (int i = 0; i < objects.size(); i++) {
            Fields at = objects.get(i);
            String usual = i == 0 ? "terminator-a" : i == 1 ? "terminator-b" : "terminator-" + (i + 1);
            String name = at.name("name").orElse(usual);
            OptionalDouble metres = at.number("atMetres", 0, end);
            OptionalDouble ohm = at.number("ohm", 1, 1e6);
            Optional<String> inside = at.name("inside");
            boolean split = at.flag("split").orElse(false);
            at.<Terminator>build(() -> new Terminator(name, metres, ohm.orElse(NOMINAL_TERMINATOR_OHM), inside, split)).ifPresent(found::add);
        }
        if (objects.size() > 16) {
            fields.fault("terminators", "A network has at most 16 terminators.");
        }
        unique(fields, "terminators", found, Terminator::name);
        return List.copyOf(found);
    }

    private static Optional<Connector> connector(Fields fields, double end) {
        OptionalDouble at = fields.number("atMetres", 0, end);
        OptionalDouble stub = fields.number("stubMetres", 0, 100);
        Optional<String> high = fields.text("high");
        Optional<String> low = fields.text("low");
        return fields.build(() -> new Connector(at, stub, high, low));
    }

    private static Optional<Node> node(Fields fields, double end) {
        Optional<String> module = fields.required("module", fields.name("module"));
        OptionalInt address = fields.integer("address", 0, 255);
        OptionalDouble at = fields.number("atMetres", 0, end);
        OptionalDouble stub = fields.number("stubMetres", 0, 100);
        OptionalDouble differential = fields.number("differentialOhm", 1, OHM_AT_MOST);
        OptionalDouble lineToGround = fields.number("lineToGroundOhm", 1, OHM_AT_MOST);
        OptionalDouble biasVolt = fields.number("biasVolt", 0, 48);
        OptionalDouble biasOhm = fields.number("biasOhm", 1, OHM_AT_MOST);
        boolean safety = fields.flag("safety").orElse(false);
        return fields.build(() -> new Node(module.orElseThrow(), address, at, stub, differential, lineToGround, biasVolt, biasOhm, safety));
    }

    private static Optional<ChargeAir> chargeAir(Fields fields) {
        Optional<Quantity> ratedBoost = fields.quantity("ratedBoost", Kind.PRESSURE);
        Optional<Quantity> maxTest = fields.quantity("maxTestPressure", Kind.PRESSURE);
        Optional<Quantity> temperature = fields.quantity("chargeTemperature", Kind.TEMPERATURE);
        Optional<Quantity> volume = fields.quantity("volume", Kind.VOLUME);
        inRange(fields, ratedBoost, temperature);
        ChargeAirReading.aboveZero(fields, "maxTestPressure", maxTest, 2e6, "2 MPa");
        ChargeAirReading.aboveZero(fields, "volume", volume, 10, "10 m3");
        Optional<List<String>> spots = fields.has("spots") ? Optional.of(fields.names("spots")) : Optional.empty();
        return fields.build(() -> new ChargeAir(ratedBoost, maxTest, temperature, volume, spots));
    }

    /** What a build and the calculation say of the charge at rated boost. */
    public static void inRange(Fields fields, Optional<Quantity> ratedBoost, Optional<Quantity> chargeTemperature) {
        ChargeAirReading.within(fields, "ratedBoost", ratedBoost, 0, 1e6, "0 to 1 MPa");
        ChargeAirReading.within(fields, "chargeTemperature", chargeTemperature, 220, 500, "-53 to 227 degC");
    }

    /** An engine as in a build; the charge-air calculation takes it too. */
    public static Optional<Engine> engine(Fields fields) {
        Optional<Quantity> displacement = fields.quantity("displacement", Kind.VOLUME);
        ChargeAirReading.aboveZero(fields, "displacement", displacement, 1, "1 000 L");
        OptionalDouble speed = fields.number("ratedSpeedRpm", 1, 20_000);
        OptionalDouble efficiency = fields.number("volumetricEfficiency", 0.1, 1.5);
        OptionalInt strokes = fields.integer("strokes", 2, 4);
        if (strokes.isPresent() && strokes.getAsInt() == 3) {
            fields.fault("strokes", "An engine has 2 or 4 strokes.");
        }
        return fields.build(() -> new Engine(displacement, speed, efficiency, strokes));
    }

    /** The unit as recorded: its identifier and version beside the members as sent. */
    public static ObjectNode toWire(RecordedUnit recorded) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("unit", recorded.unit().id());
        Json.kept(recorded.document()).properties().forEach(member -> node.set(member.getKey(), member.getValue()));
        node.put("version", recorded.version()).put("recordedAt", recorded.recordedAt().toString());
        return node;
    }
}
