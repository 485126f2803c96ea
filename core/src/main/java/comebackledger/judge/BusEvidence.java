package comebackledger.judge;

import comebackledger.bus.BusReadings;
import comebackledger.bus.CheckPolicy;
import comebackledger.bus.CodeSign;
import comebackledger.bus.DoneTest;
import comebackledger.bus.TestKind;
import comebackledger.measure.Quantity;
import comebackledger.unit.Build;
import comebackledger.unit.Network;
import comebackledger.visit.BusCheck;
import comebackledger.visit.CodeEntry;
import comebackledger.visit.CodeStatus;
import comebackledger.visit.MeterSpec;
import comebackledger.visit.Power;
import comebackledger.visit.RollCall;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** From a visit's words to the bus room's: readings, roll calls, further tests, codes. The calculation takes the same way. */
public final class BusEvidence {
    private BusEvidence() {}

    /** The readings of a check as a visit or the calculation sends it. */
    public static BusReadings readings(BusCheck check, CheckPolicy policy) {
        return readings(check.readings(), check.power().filter(power -> power == Power.ON).isPresent(), check.leadResistance(),
                check.meter().map(spec -> meter(spec, policy)), check.atModule());
    }

    private static BusReadings readings(comebackledger.visit.BusReadings shown, boolean powered, Optional<Quantity> leads,
            Optional<BusReadings.Meter> meter,
            Optional<String> atModule) {
        return new BusReadings(powered, shown.highLow(), shown.highGround(), shown.lowGround(), shown.highSupply(), shown.lowSupply(),
                shown.supplyVoltage(),
                shown.highVoltage(), shown.lowVoltage(), leads.isPresent() ? OptionalDouble.of(leads.get().si()) : OptionalDouble.empty(),
                meter, atModule);
    }

    /** What a check does not tell of its meter is as the fleet assumes. */
    static BusReadings.Meter meter(MeterSpec spec, CheckPolicy policy) {
        BusReadings.Meter usual = policy.meter();
        return new BusReadings.Meter(spec.relativeAccuracy().orElse(usual.relativeAccuracy()), spec.digitOhm().orElse(usual.digitOhm()));
    }

    /** Tests of the closed list as the bus room knows them. */
    public static List<DoneTest> done(List<comebackledger.visit.DoneTest> done) {
        if (done.isEmpty()) {
            return List.of();
        }
        return done.stream().flatMap(test -> TestKind.ofWord(test.test()).stream()
                .map(kind -> new DoneTest(kind, test.place().map(BusEvidence::lastPart),
                        readings(test.readings(), false, Optional.empty(), Optional.empty(),
                                Optional.empty()),
                        test.rollCall().map(BusEvidence::rollCall), test.part(), test.towardA(), test.towardB(), test.highLine(),
                        test.lowLine(), test.found())))
                .toList();
    }

    private static String lastPart(String place) {
        return place.substring(place.lastIndexOf('.') + 1);
    }

    public static comebackledger.bus.RollCall rollCall(RollCall call) {
        return new comebackledger.bus.RollCall(call.answered(), call.silent());
    }

    /** What codes that stand by themselves, outside any visit, say of one network. */
    public static List<CodeSign> signs(List<CodeEntry> codes, Network network) {
        Build build = new Build(OptionalDouble.empty(), Optional.of(List.of(network)), Optional.empty(), Optional.empty());
        return CodeJudge.decoded(codes, build).stream().flatMap(code -> sign(code).stream()).toList();
    }

    static Optional<CodeSign> sign(CodeFact code) {
        boolean active = code.status() == CodeStatus.ACTIVE || code.status() == CodeStatus.PENDING;
        Optional<CodeSign.Says> says = switch (code.kind()) {
            case LOST_COMMUNICATION -> Optional.of(CodeSign.Says.LOST_COMMUNICATION);
            case INVALID_DATA -> Optional.of(CodeSign.Says.INVALID_DATA);
            case BUS, BUS_OFF -> Optional.of(CodeSign.Says.BUS_OFF);
            case LOW_SUPPLY -> Optional.of(CodeSign.Says.LOW_SUPPLY);
            case SOFTWARE_INCOMPATIBLE, NETWORK_OTHER, CHARGE_AIR, OTHER -> Optional.empty();
        };
        return says.map(word -> new CodeSign(word, code.accused(), code.reporter(), active));
    }
}
