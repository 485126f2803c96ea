package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.bus.BusVerdict;
import comebackledger.bus.CheckPolicy;
import comebackledger.bus.Circuit;
import comebackledger.bus.CodeSign;
import comebackledger.bus.Evidence;
import comebackledger.judge.BusEvidence;
import comebackledger.judge.Circuits;
import comebackledger.openapi.BusCheckReading;
import comebackledger.openapi.BusMapping;
import comebackledger.openapi.Fields;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.policy.Policy;
import comebackledger.unit.Network;
import comebackledger.visit.BusCheck;
import comebackledger.visit.CodeEntry;
import comebackledger.visit.Place;
import comebackledger.visit.Stage;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** {@code POST /v1/calculations/bus-check}: readings, roll call and codes of one network to verdict, suspects and next tests. */
public final class BusCheckMapping {
    private static final int CODES_AT_MOST = 1000;

    private BusCheckMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault of the body */
    public static JsonNode answer(Fields body) {
        return answer(body, Policy.DEFAULT);
    }

    /** The same, with a fleet's limits, odds and instruments. */
    public static JsonNode answer(Fields body, Policy policy) {
        Optional<Fields> sent = body.object("network");
        Optional<Network> network = sent.isPresent() ? sent.flatMap(UnitMapping::anyNetwork) : Optional.of(unknown());
        List<CodeEntry> codes = body.list("codes", CODES_AT_MOST, VisitMapping::code);
        boolean codesRead = body.has("codes");
        Optional<BusCheck> check = BusCheckReading.check(body, network.map(Network::name), Stage.AS_FOUND);
        body.faults().throwIfAny();
        Network known = network.orElseThrow();
        Circuit circuit = sent.isPresent() ? Circuits.of(known, OptionalDouble.empty()) : Circuit.unknown(known.name());
        Optional<List<CodeSign>> signs = codesRead ? Optional.of(BusEvidence.signs(codes, known)) : Optional.empty();
        BusCheck sentCheck = check.orElseThrow();
        Evidence evidence = new Evidence(sentCheck.rollCall().map(BusEvidence::rollCall), signs, BusEvidence.done(sentCheck.done()), List.of());
        CheckPolicy limits = Circuits.policy(policy);
        BusVerdict verdict = comebackledger.bus.BusCheck.judge(circuit, BusEvidence.readings(sentCheck, limits), evidence, limits);
        return BusMapping.toWire(verdict, Place.network(known.name()));
    }

    private static Network unknown() {
        OptionalDouble none = OptionalDouble.empty();
        return new Network("network", false, none, none, Optional.empty(), Optional.empty(), none, Optional.empty());
    }
}
