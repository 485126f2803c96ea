package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.bus.BusModel;
import comebackledger.bus.Circuit;
import comebackledger.bus.Fault;
import comebackledger.bus.FaultKind;
import comebackledger.bus.Line;
import comebackledger.bus.Predicted;
import comebackledger.judge.Circuits;
import comebackledger.measure.Kind;
import comebackledger.measure.Quantity;
import comebackledger.openapi.BusMapping;
import comebackledger.openapi.Fields;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.Words;
import comebackledger.unit.Network;
import comebackledger.visit.Power;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** {@code POST /v1/calculations/bus-readings}: what a meter would read on a network with these faults. */
public final class BusReadingsMapping {
    private static final int FAULTS_AT_MOST = 20;
    /** A battery at rest (common practice, no source). */
    private static final double USUAL_SUPPLY_VOLT = 12.6;
    private static final Map<String, FaultKind> FAULTS = Words
            .of(Arrays.stream(FaultKind.values()).filter(kind -> kind != FaultKind.OTHER).toArray(FaultKind[]::new), FaultKind::word);
    private static final Map<String, Line> LINES = Words.of(Line.values(), Line::word);

    private BusReadingsMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault of the body */
    public static JsonNode answer(Fields body) {
        Optional<Network> network = body.required("network", body.object("network")).flatMap(UnitMapping::anyNetwork);
        Optional<Power> power = body.required("power", body.word("power", Power.WORDS));
        List<Fault> faults = body.list("faults", FAULTS_AT_MOST, BusReadingsMapping::fault);
        double supply = body.quantity("supplyVoltage", Kind.VOLTAGE).map(Quantity::si).orElse(USUAL_SUPPLY_VOLT);
        double leads = body.quantity("leadResistance", Kind.RESISTANCE).map(Quantity::si).orElse(0.0);
        Optional<String> at = body.text("at").map(BusReadingsMapping::part).filter(part -> !part.equals("connector"));
        if (at.isPresent() && network.isPresent() && network.get().node(at.get()).isEmpty()) {
            body.fault("at", "`at` must be `connector` or a module of the network.");
        }
        if (!(supply >= 0 && supply <= 100)) {
            body.fault("supplyVoltage", "The supply voltage must be from 0 to 100 V.");
        }
        if (leads > 1000) {
            body.fault("leadResistance", "Both leads together must have at most 1000 ohm.");
        }
        body.refuseUnknown();
        body.faults().throwIfAny();
        Circuit circuit = Circuits.of(network.orElseThrow(), OptionalDouble.empty());
        BusModel.Meter meter = new BusModel.Meter(power.orElseThrow() == Power.ON, supply, leads, at);
        return BusMapping.predicted(readings(body, circuit, faults, meter));
    }

    /** The last part of a place, or the part alone. */
    private static String part(String place) {
        return place.substring(place.lastIndexOf('.') + 1);
    }

    /** What the model refuses of a fault is a fault of the body: a part that the network does not have, a place beyond its end. */
    private static Predicted readings(Fields body, Circuit circuit, List<Fault> faults, BusModel.Meter meter) {
        try {
            return BusModel.readings(circuit, faults, meter);
        } catch (IllegalArgumentException e) {
            body.fault("faults", String.valueOf(e.getMessage()));
            body.faults().throwIfAny();
            throw e;
        }
    }

    private static Optional<Fault> fault(Fields fields) {
        Optional<FaultKind> kind = fields.required("fault", fields.word("fault", FAULTS));
        Optional<String> place = fields.text("place").map(BusReadingsMapping::part);
        Optional<Line> line = fields.word("line", LINES);
        List<String> between = fields.names("between");
        if (fields.has("between") && between.size() != 2) {
            fields.fault("between", "`between` names the two neighbours along the trunk that the fault sits between.");
        }
        OptionalDouble ohm = fields.number("ohm", 0, 1e9);
        OptionalDouble at = fields.number("atMetres", 0, 10_000);
        Optional<String> module = fields.name("module");
        Optional<String> terminator = fields.name("terminator");
        return fields.build(() -> new Fault(kind.orElseThrow(), module.or(() -> terminator).or(() -> place), line, ohm, at, between));
    }
}
