package comebackledger.judge;

import comebackledger.bus.BusReadings;
import comebackledger.bus.CheckPolicy;
import comebackledger.bus.Circuit;
import comebackledger.bus.FaultKind;
import comebackledger.bus.FaultOdds;
import comebackledger.bus.TestKind;
import comebackledger.policy.InstrumentPolicy;
import comebackledger.policy.Policy;
import comebackledger.unit.Network;
import java.util.EnumMap;
import java.util.Map;
import java.util.OptionalDouble;

/** From a unit's build and the fleet's policy to the circuit and the limits that the bus room knows. */
public final class Circuits {
    private static final String PAIRS = "pairs";

    private Circuits() {}

    public static Circuit of(Network network, OptionalDouble nominalSupplyVolts) {
        return new Circuit(network.name(), network.trunkMetres(), network.wireOhmPerMetre(),
                network.terminators()
                        .map(list -> list.stream()
                                .map(one -> new Circuit.Terminator(one.name(), one.atMetres(), one.ohm(), one.inside(), one.split())).toList()),
                network.nodes()
                        .map(list -> list.stream()
                                .map(one -> new Circuit.Node(one.module(), one.atMetres(), one.stubMetres(), one.differentialOhm(),
                                        one.lineToGroundOhm(),
                                        one.biasVolt(), one.biasOhm()))
                                .toList()),
                network.connector().map(one -> new Circuit.Connector(one.atMetres(), one.stubMetres())), positive(network.supplyToGroundOhm()),
                nominalSupplyVolts);
    }

    /** Loads of 0 ohm are a short, which is no build. */
    private static OptionalDouble positive(OptionalDouble ohm) {
        return ohm.isPresent() && ohm.getAsDouble() > 0 ? ohm : OptionalDouble.empty();
    }

    public static CheckPolicy policy(Policy policy) {
        InstrumentPolicy instruments = policy.instruments();
        Map<FaultKind, Double> odds = new EnumMap<>(FaultKind.class);
        policy.bus().faultOdds().forEach((word, weight) -> FaultKind.ofWord(word).ifPresent(kind -> odds.put(kind, weight)));
        FaultOdds merged = FaultOdds.DEFAULT.with(odds);
        Map<TestKind, Double> minutes = new EnumMap<>(TestKind.class);
        policy.bus().testMinutes().forEach((word, value) -> TestKind.ofWord(word).ifPresent(test -> minutes.put(test, value)));
        Double pairs = policy.bus().faultOdds().get(PAIRS);
        return new CheckPolicy(policy.bus().terminatorTolerance(), Math.max(instruments.terminatorShare(), 1e-4),
                new BusReadings.Meter(instruments.meterRelativeAccuracy(), instruments.meterDigitOhm()), instruments.leadOhm(),
                policy.bus().lowSupplyVoltsPer12(), pairs == null ? merged : new FaultOdds(merged.weights(), pairs),
                policy.bus().highLowOhm().map(range -> new CheckPolicy.Range(range.low(), range.high())), minutes,
                CheckPolicy.DEFAULT.provenRepair());
    }
}
