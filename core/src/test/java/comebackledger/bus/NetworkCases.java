package comebackledger.bus;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.measure.Quantity;
import comebackledger.measure.UnitOfMeasure;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** The cases that go from a roll call, codes and readings to a place. */
final class NetworkCases {
    /** Which module each code of the cases accuses (SAE J2012, as the code room's table has it). */
    private static final Map<String, String> ACCUSED = Map.of("U0100", "engine", "U0101", "transmission", "U0121", "brakes", "U0155", "cluster",
            "U0140",
            "body", "U010E", "aftertreatment", "U029D", "nox-sensor-a", "U0401", "engine");

    private NetworkCases() {}

    static Circuit circuit(JsonNode inputs) {
        JsonNode network = inputs.get("network");
        List<String> order = new ArrayList<>();
        network.get("order").forEach(name -> order.add(name.textValue()));
        List<Circuit.Node> nodes = new ArrayList<>();
        for (int i = 0; i < order.size(); i++) {
            OptionalDouble none = OptionalDouble.empty();
            nodes.add(new Circuit.Node(order.get(i), OptionalDouble.of(i + 1), none, none, none, none, none));
        }
        double metres = order.size() + 1;
        Optional<Circuit.Connector> connector = Cases.text(network, "connectorAfter")
                .map(after -> new Circuit.Connector(OptionalDouble.of(order.indexOf(after) + 1.5), OptionalDouble.empty()));
        return new Circuit(network.get("name").textValue(), OptionalDouble.of(metres), OptionalDouble.empty(),
                Optional.of(List.of(terminator(network, "terminator-a", 0), terminator(network, "terminator-b", metres))), Optional.of(nodes),
                connector,
                OptionalDouble.empty(), OptionalDouble.empty());
    }

    private static Circuit.Terminator terminator(JsonNode network, String name, double metres) {
        return new Circuit.Terminator(name, OptionalDouble.of(metres), 120, Cases.text(network.get("terminatorInside"), name), false);
    }

    static BusReadings readings(JsonNode inputs) {
        JsonNode readings = inputs.path("readings");
        return new BusReadings(readings.path("power").asText().equals("on") && readings.has("highLowOhm"),
                BusCheckTest.reading(readings, "highLowOhm"),
                BusCheckTest.reading(readings, "highGroundOhm"), BusCheckTest.reading(readings, "lowGroundOhm"), Optional.empty(), Optional.empty(),
                volt(inputs, "supplyVolt"), volt(readings, "highVolt"), volt(readings, "lowVolt"), OptionalDouble.empty(), Optional.empty(),
                Optional.empty());
    }

    private static Optional<Quantity> volt(JsonNode node, String field) {
        return node.has(field) ? Optional.of(Quantity.of(node.get(field).doubleValue(), UnitOfMeasure.VOLT)) : Optional.empty();
    }

    static Evidence evidence(JsonNode inputs) {
        List<String> answered = new ArrayList<>();
        List<String> silent = new ArrayList<>();
        inputs.at("/rollCall/answered").forEach(name -> answered.add(name.textValue()));
        inputs.at("/rollCall/silent").forEach(name -> silent.add(name.textValue()));
        List<CodeSign> codes = new ArrayList<>();
        for (JsonNode code : inputs.get("codes")) {
            String word = code.get("code").textValue();
            CodeSign.Says says = word.equals("P0562")
                    ? CodeSign.Says.LOW_SUPPLY
                    : word.equals("U0073")
                            ? CodeSign.Says.BUS_OFF
                            : word.startsWith("U04") ? CodeSign.Says.INVALID_DATA : CodeSign.Says.LOST_COMMUNICATION;
            codes.add(new CodeSign(says, Optional.ofNullable(ACCUSED.get(word)), Cases.text(code, "reportedBy"),
                    code.get("status").textValue().equals("active")));
        }
        return new Evidence(Optional.of(new RollCall(answered, silent)), Optional.of(codes), List.of(), List.of());
    }

    static BusReadings highLow(double ohm) {
        return new BusReadings(false, Optional.of(Quantity.of(ohm, UnitOfMeasure.OHM)), Optional.empty(), Optional.empty(), Optional.empty(),
                Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), OptionalDouble.of(0), Optional.empty(), Optional.empty());
    }

    static Circuit nodes(int count, double differentialOhm) {
        List<Circuit.Node> nodes = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            OptionalDouble none = OptionalDouble.empty();
            nodes.add(new Circuit.Node("node-" + i, none, none, OptionalDouble.of(differentialOhm), none, none, none));
        }
        return new Circuit("j1939-1", OptionalDouble.of(20), OptionalDouble.of(0.021), Optional.empty(), Optional.of(nodes), Optional.empty(),
                OptionalDouble.empty(), OptionalDouble.empty());
    }
}
