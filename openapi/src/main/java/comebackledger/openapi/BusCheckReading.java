package comebackledger.openapi;

import comebackledger.bus.TestKind;
import comebackledger.measure.Kind;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.visit.BusCheck;
import comebackledger.visit.BusReadings;
import comebackledger.visit.DoneTest;
import comebackledger.visit.MeterSpec;
import comebackledger.visit.Power;
import comebackledger.visit.RollCall;
import comebackledger.visit.Stage;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** A bus check as a visit and the calculation send it. */
public final class BusCheckReading {
    /** The closed list of tests a technician can be sent to. */
    static final Map<String, TestKind> TESTS = Words.of(TestKind.values(), TestKind::word);
    private static final int DONE_AT_MOST = 100;

    private BusCheckReading() {}

    static Optional<BusCheck> busCheck(Fields fields) {
        Optional<String> network = fields.required("network", fields.name("network"));
        Stage stage = fields.word("stage", Stage.WORDS).orElse(Stage.AS_FOUND);
        return check(fields, network, stage);
    }

    /** The readings, roll call and done tests of a check; {@code network} is what the caller knows of the name. */
    public static Optional<BusCheck> check(Fields fields, Optional<String> network, Stage stage) {
        Optional<Power> power = fields.word("power", Power.WORDS);
        Optional<BusReadings> readings = readings(fields);
        if (readings.filter(BusReadings::hasResistance).isPresent() && !fields.has("power")) {
            fields.fault("power", "`power` is missing. An ohmmeter is used with the power off: say `off`, or `on` if it was on.");
        }
        Optional<Quantity> leads = fields.quantity("leadResistance", Kind.RESISTANCE);
        ChargeAirReading.within(fields, "leadResistance", leads, 0, 1000, "0 to 1000 ohm");
        Optional<MeterSpec> meter = fields.object("meter").flatMap(BusCheckReading::meter);
        Optional<RollCall> rollCall = fields.object("rollCall").flatMap(BusCheckReading::rollCall);
        List<DoneTest> done = fields.list("done", DONE_AT_MOST, BusCheckReading::done);
        Optional<String> connector = fields.name("connector");
        Optional<String> atModule = fields.name("atModule");
        return fields.build(
                () -> new BusCheck(network.orElseThrow(), stage, power, readings.orElseThrow(), leads, meter, rollCall, done, connector, atModule));
    }

    private static Optional<BusReadings> readings(Fields fields) {
        Optional<Reading> highLow = fields.reading("highLow", Kind.RESISTANCE);
        Optional<Reading> highGround = fields.reading("highGround", Kind.RESISTANCE);
        Optional<Reading> lowGround = fields.reading("lowGround", Kind.RESISTANCE);
        Optional<Reading> highSupply = fields.reading("highSupply", Kind.RESISTANCE);
        Optional<Reading> lowSupply = fields.reading("lowSupply", Kind.RESISTANCE);
        Optional<Quantity> supply = fields.quantity("supplyVoltage", Kind.VOLTAGE);
        Optional<Quantity> high = fields.quantity("highVoltage", Kind.VOLTAGE);
        Optional<Quantity> low = fields.quantity("lowVoltage", Kind.VOLTAGE);
        return Optional.of(new BusReadings(highLow, highGround, lowGround, highSupply, lowSupply, supply, high, low));
    }

    private static Optional<MeterSpec> meter(Fields fields) {
        OptionalDouble accuracy = fields.number("relativeAccuracy", 0, 0.5);
        OptionalDouble digit = fields.number("digitOhm", 0, 1000);
        return fields.build(() -> new MeterSpec(accuracy, digit));
    }

    static Optional<RollCall> rollCall(Fields fields) {
        List<String> answered = fields.names("answered");
        List<String> silent = fields.names("silent");
        Set<String> heard = new HashSet<>(answered);
        for (int i = 0; i < silent.size(); i++) {
            if (heard.contains(silent.get(i))) {
                fields.faults().add(fields.pointer("silent") + "/" + i, "A module stands in both lists. It either answered or stayed silent.");
            }
        }
        return fields.build(() -> new RollCall(answered, silent));
    }

    private static Optional<DoneTest> done(Fields fields) {
        Optional<String> test = fields.required("test", fields.word("test", TESTS)).map(TestKind::word);
        Optional<String> place = fields.text("place");
        Optional<DoneTest> result = fields.required("result", fields.object("result")).flatMap(shown -> result(shown, test.orElse(""), place));
        return fields.build(result::orElseThrow);
    }

    private static Optional<DoneTest> result(Fields fields, String test, Optional<String> place) {
        Optional<BusReadings> readings = readings(fields);
        Optional<RollCall> rollCall = fields.object("rollCall").flatMap(BusCheckReading::rollCall);
        Optional<Reading> part = fields.reading("part", Kind.RESISTANCE);
        Optional<Reading> towardA = fields.reading("towardA", Kind.RESISTANCE);
        Optional<Reading> towardB = fields.reading("towardB", Kind.RESISTANCE);
        Optional<Reading> highLine = fields.reading("highLine", Kind.RESISTANCE);
        Optional<Reading> lowLine = fields.reading("lowLine", Kind.RESISTANCE);
        Optional<Boolean> found = fields.flag("found");
        return fields.build(() -> new DoneTest(test, place, readings.orElseThrow(), rollCall, part, towardA, towardB, highLine, lowLine, found));
    }
}
