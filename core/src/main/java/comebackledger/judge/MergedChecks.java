package comebackledger.judge;

import comebackledger.bus.BusReadings;
import comebackledger.bus.CheckPolicy;
import comebackledger.bus.DoneTest;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.visit.BusCheck;
import comebackledger.visit.Power;
import comebackledger.visit.RollCall;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** The checks of one network, stage and point taken together: the last of each reading and of each module called. */
final class MergedChecks {
    private final CheckPolicy policy;
    private final List<String> pointers = new ArrayList<>();
    private Optional<Reading> highLow = Optional.empty();
    private Optional<Reading> highGround = Optional.empty();
    private Optional<Reading> lowGround = Optional.empty();
    private Optional<Reading> highSupply = Optional.empty();
    private Optional<Reading> lowSupply = Optional.empty();
    private Optional<Quantity> supply = Optional.empty();
    private Optional<Quantity> highVoltage = Optional.empty();
    private Optional<Quantity> lowVoltage = Optional.empty();
    private OptionalDouble leadOhm = OptionalDouble.empty();
    private Optional<BusReadings.Meter> meter = Optional.empty();
    private final Map<String, Boolean> called = new LinkedHashMap<>();
    private final List<comebackledger.visit.DoneTest> done = new ArrayList<>();

    MergedChecks(CheckPolicy policy) {
        this.policy = policy;
    }

    void add(BusCheck check, String pointer, boolean supplyLow) {
        boolean powered = check.power().filter(power -> power == Power.ON).isPresent();
        var shown = check.readings();
        if (!powered) {
            highLow = shown.highLow().or(() -> highLow);
            highGround = shown.highGround().or(() -> highGround);
            lowGround = shown.lowGround().or(() -> lowGround);
            highSupply = shown.highSupply().or(() -> highSupply);
            lowSupply = shown.lowSupply().or(() -> lowSupply);
        }
        if (!supplyLow) {
            supply = shown.supplyVoltage().or(() -> supply);
            highVoltage = shown.highVoltage().or(() -> highVoltage);
            lowVoltage = shown.lowVoltage().or(() -> lowVoltage);
            check.rollCall().ifPresent(call -> {
                call.answered().forEach(module -> called.put(module, true));
                call.silent().forEach(module -> called.put(module, false));
            });
        }
        leadOhm = check.leadResistance().isPresent() ? OptionalDouble.of(check.leadResistance().get().si()) : leadOhm;
        meter = check.meter().map(spec -> BusEvidence.meter(spec, policy)).or(() -> meter);
        done.addAll(check.done());
        boolean says = !powered && shown.hasResistance()
                || !supplyLow && (shown.highVoltage().isPresent() || shown.lowVoltage().isPresent() || check.rollCall().isPresent())
                || !check.done().isEmpty();
        if (says) {
            pointers.add(pointer);
        }
    }

    boolean saysNothing() {
        return pointers.isEmpty();
    }

    Optional<RollCall> rollCall() {
        return called.isEmpty() ? Optional.empty() : Optional.of(new RollCall(answered(), silent()));
    }

    List<String> answered() {
        return modules(true);
    }

    List<String> silent() {
        return modules(false);
    }

    private List<String> modules(boolean answered) {
        List<String> modules = new ArrayList<>();
        called.forEach((module, answer) -> {
            if (answer == answered) {
                modules.add(module);
            }
        });
        return List.copyOf(modules);
    }

    Set<String> names() {
        Set<String> names = new LinkedHashSet<>();
        highLow.ifPresent(_ -> names.add("highLow"));
        highGround.ifPresent(_ -> names.add("highGround"));
        lowGround.ifPresent(_ -> names.add("lowGround"));
        highSupply.ifPresent(_ -> names.add("highSupply"));
        lowSupply.ifPresent(_ -> names.add("lowSupply"));
        highVoltage.ifPresent(_ -> names.add("highVoltage"));
        lowVoltage.ifPresent(_ -> names.add("lowVoltage"));
        return names;
    }

    BusReadings readings(Optional<String> atModule) {
        return new BusReadings(false, highLow, highGround, lowGround, highSupply, lowSupply, supply, highVoltage, lowVoltage, leadOhm, meter,
                atModule);
    }

    List<String> pointers() {
        return pointers;
    }

    Optional<Reading> highLow() {
        return highLow;
    }

    OptionalDouble leadOhm() {
        return leadOhm;
    }

    List<comebackledger.visit.DoneTest> done() {
        return done;
    }
}
