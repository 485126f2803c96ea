package comebackledger.openapi;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.bus.FaultOdds;
import comebackledger.bus.TestKind;
import comebackledger.ledger.Evidence;
import comebackledger.ledger.RecordedPolicy;
import comebackledger.policy.AirPolicy;
import comebackledger.policy.BusPolicy;
import comebackledger.policy.InstrumentPolicy;
import comebackledger.policy.Policy;
import comebackledger.policy.ReadinessPolicy;
import comebackledger.policy.Window;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;

/** The fleet's policy, both ways; a number that is left out takes its default. */
public final class PolicyMapping {
    private static final Map<String, Policy.Display> DISPLAYS = Map.of("metric", Policy.Display.METRIC, "us", Policy.Display.US);

    /** By fault word, and by the word of a test, their defaults. */
    static final SortedMap<String, Double> ODDS = odds();
    private static final SortedMap<String, Double> MINUTES = minutes();

    private PolicyMapping() {}

    private static SortedMap<String, Double> odds() {
        SortedMap<String, Double> odds = new TreeMap<>();
        FaultOdds.DEFAULT.weights().forEach((kind, weight) -> odds.put(kind.word(), weight));
        odds.put("pairs", FaultOdds.DEFAULT.pairs());
        return odds;
    }

    private static SortedMap<String, Double> minutes() {
        SortedMap<String, Double> minutes = new TreeMap<>();
        for (TestKind test : TestKind.values()) {
            minutes.put(test.word(), test.minutes());
        }
        return minutes;
    }

    /** @throws Problem 400 or 422 with every fault */
    public static Evidence<Policy> toCore(byte[] body) {
        return new Evidence<>(policy(Json.object(body)), Json.compact(body));
    }

    static Policy policy(JsonNode node) {
        Faults faults = new Faults();
        Optional<Policy> policy = policy(Fields.of(node, faults));
        faults.throwIfAny();
        return policy.orElseThrow();
    }

    private static Optional<Policy> policy(Fields fields) {
        Policy usual = Policy.DEFAULT;
        fields.number("version", 0, Integer.MAX_VALUE); // ours: read back and sent again, it means nothing
        Optional<Window> repeat = window(fields, "repeatWindow", usual.repeatWindow());
        Optional<Window> quiet = window(fields, "quietWindow", usual.quietWindow());
        double age = fields.number("evidenceMaxAgeDays", 1, 3650).orElse(usual.evidenceMaxAgeDays());
        double noFaultFound = fields.number("noFaultFoundDays", 1, 3650).orElse(usual.noFaultFoundDays());
        Optional<BusPolicy> bus = fields.object("bus").map(PolicyMapping::bus).orElse(Optional.of(usual.bus()));
        Optional<AirPolicy> air = fields.object("chargeAir").map(PolicyMapping::air).orElse(Optional.of(usual.chargeAir()));
        Optional<InstrumentPolicy> instruments = fields.object("instruments").map(PolicyMapping::instruments)
                .orElse(Optional.of(usual.instruments()));
        Optional<Policy.Drift> drift = fields.object("drift").map(PolicyMapping::drift).orElse(Optional.of(usual.drift()));
        Optional<Double> worst = fields.object("fleet").map(PolicyMapping::worstShare).orElse(Optional.of(usual.worstShare()));
        Optional<ReadinessPolicy> readiness = fields.object("readiness").map(PolicyMapping::readiness).orElse(Optional.of(usual.readiness()));
        Policy.Display display = fields.word("display", DISPLAYS).orElse(usual.display());
        return fields.build(() -> new Policy(repeat.orElseThrow(), quiet.orElseThrow(), age, noFaultFound, bus.orElseThrow(), air.orElseThrow(),
                instruments.orElseThrow(), drift.orElseThrow(), worst.orElseThrow(), readiness.orElseThrow(), display));
    }

    private static Optional<Window> window(Fields fields, String name, Window usual) {
        return fields.object(name).map(window -> {
            double days = window.number("days", 0.001, 3650).orElse(usual.days());
            double km = window.number("km", 0.001, 1e7).orElse(usual.km());
            double hours = window.number("engineHours", 0.001, 1e5).orElse(usual.engineHours());
            return window.<Window>build(() -> new Window(days, km, hours));
        }).orElse(Optional.of(usual));
    }

    private static Optional<BusPolicy> bus(Fields fields) {
        BusPolicy usual = BusPolicy.DEFAULT;
        double tolerance = fields.number("terminatorTolerance", 0.001, 0.5).orElse(usual.terminatorTolerance());
        double namePlaceAt = fields.number("namePlaceAt", 0.01, 1).orElse(usual.namePlaceAt());
        double holdFaultsAt = fields.number("holdFaultsAt", 0.01, 1).orElse(usual.holdFaultsAt());
        double lowSupply = fields.number("lowSupplyVoltsPer12", 0, 12).orElse(usual.lowSupplyVoltsPer12());
        SortedMap<String, Double> odds = fields.object("faultOdds").map(map -> byWord(map, ODDS, 0, 1e6, "fault of the vocabulary"))
                .orElse(new TreeMap<>());
        SortedMap<String, Double> minutes = fields.object("testMinutes").map(map -> byWord(map, MINUTES, 0.1, 1440, "test of the closed list"))
                .orElse(new TreeMap<>());
        if (odds.keySet().containsAll(ODDS.keySet()) && odds.values().stream().allMatch(weight -> weight == 0)) {
            fields.fault("faultOdds", "At least one fault must have a weight above 0.");
        }
        Optional<BusPolicy.Range> range = fields.object("highLowOhm").flatMap(PolicyMapping::range);
        return fields.build(() -> new BusPolicy(tolerance, namePlaceAt, holdFaultsAt, lowSupply, odds, minutes, range));
    }

    /** Numbers by closed words; one at its default says nothing, so that a policy read and sent back stays the same. */
    private static SortedMap<String, Double> byWord(Fields map, Map<String, Double> defaults, double least, double most, String what) {
        SortedMap<String, Double> set = new TreeMap<>();
        for (String word : map.memberNames()) {
            if (!defaults.containsKey(word)) {
                map.fault(word, "This is not a " + what + ". Known are: " + String.join(", ", defaults.keySet()) + ".");
            } else {
                map.number(word, least, most).stream().filter(value -> value != defaults.get(word)).forEach(value -> set.put(word, value));
            }
        }
        return set;
    }

    private static Optional<BusPolicy.Range> range(Fields fields) {
        double low = fields.requiredNumber("low", 0, 1e6);
        double high = fields.requiredNumber("high", 0, 1e6);
        return fields.build(() -> new BusPolicy.Range(low, high));
    }

    private static Optional<AirPolicy> air(Fields fields) {
        AirPolicy usual = AirPolicy.DEFAULT;
        double max = fields.number("maxLossShare", 0.0001, 0.9999).orElse(usual.maxLossShare());
        double hold = fields.number("holdLossShare", 0.0001, 1).orElse(Math.max(usual.holdLossShare(), max));
        OptionalDouble orifice = fields.number("maxOrificeMm", 0.01, 100);
        return fields.build(() -> new AirPolicy(max, hold, orifice));
    }

    private static Optional<InstrumentPolicy> instruments(Fields fields) {
        InstrumentPolicy usual = InstrumentPolicy.DEFAULT;
        double pressureShare = fields.number("pressureShare", 0, 0.5).orElse(usual.pressureShare());
        double pressurePa = fields.number("pressurePa", 0, 1e5).orElse(usual.pressurePa());
        double flowShare = fields.number("flowShare", 0, 0.5).orElse(usual.flowShare());
        double flow = fields.number("flowLitresPerMinute", 0, 1000).orElse(usual.flowLitresPerMinute());
        double temperature = fields.number("temperatureK", 0, 50).orElse(usual.temperatureK());
        double ambient = fields.number("ambientPa", 0, 1e5).orElse(usual.ambientPa());
        double volume = fields.number("volumeShare", 0, 0.5).orElse(usual.volumeShare());
        double time = fields.number("timeS", 0, 60).orElse(usual.timeS());
        double coefficient = fields.number("dischargeCoefficient", 0.1, 1).orElse(usual.dischargeCoefficient());
        if (coefficient == 0.1) {
            fields.fault("dischargeCoefficient", "`dischargeCoefficient` must be above 0.1 and at most 1.");
        }
        double coefficientUncertainty = fields.number("dischargeCoefficientUncertainty", 0, 0.5).orElse(usual.dischargeCoefficientUncertainty());
        double meter = fields.number("meterRelativeAccuracy", 0, 0.5).orElse(usual.meterRelativeAccuracy());
        double digit = fields.number("meterDigitOhm", 0, 100).orElse(usual.meterDigitOhm());
        double lead = fields.number("leadOhm", 0, 100).orElse(usual.leadOhm());
        double terminator = fields.number("terminatorShare", 0, 0.5).orElse(usual.terminatorShare());
        return fields.build(() -> new InstrumentPolicy(pressureShare, pressurePa, flowShare, flow, temperature, ambient, volume, time, coefficient,
                coefficientUncertainty, meter, digit, lead, terminator));
    }

    private static Optional<Policy.Drift> drift(Fields fields) {
        double km = fields.number("km", 1, 1e6).orElse(Policy.DEFAULT.drift().km());
        double days = fields.number("days", 1, 3650).orElse(Policy.DEFAULT.drift().days());
        return fields.build(() -> new Policy.Drift(km, days));
    }

    private static Optional<Double> worstShare(Fields fields) {
        double share = fields.number("worstShare", 0.001, 0.5).orElse(Policy.DEFAULT.worstShare());
        return fields.build(() -> share);
    }

    private static Optional<ReadinessPolicy> readiness(Fields fields) {
        ReadinessPolicy usual = ReadinessPolicy.DEFAULT;
        double caution = fields.number("riskCaution", 0.0001, 1).orElse(usual.riskCaution());
        double hold = fields.number("riskHold", 0.0001, 1).orElse(Math.max(usual.riskHold(), caution));
        double trip = fields.number("standardTripKm", 1, 1e5).orElse(usual.standardTripKm());
        SortedSet<String> holdFaults = new TreeSet<>(usual.holdFaults());
        if (fields.has("holdFaults")) {
            holdFaults.clear();
            for (String fault : fields.texts("holdFaults")) {
                if (!ODDS.containsKey(fault)) {
                    fields.fault("holdFaults", "Every entry must be a fault of the vocabulary: " + String.join(", ", ODDS.keySet()) + ".");
                }
                holdFaults.add(fault);
            }
        }
        return fields.build(() -> new ReadinessPolicy(caution, hold, trip, holdFaults));
    }

    /** Every number, the defaults included. */
    public static ObjectNode toWire(RecordedPolicy recorded) {
        Policy policy = recorded.policy();
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("version", recorded.version());
        window(node.putObject("repeatWindow"), policy.repeatWindow());
        window(node.putObject("quietWindow"), policy.quietWindow());
        node.put("evidenceMaxAgeDays", policy.evidenceMaxAgeDays()).put("noFaultFoundDays", policy.noFaultFoundDays());
        ObjectNode bus = node.putObject("bus");
        bus.put("terminatorTolerance", policy.bus().terminatorTolerance()).put("namePlaceAt", policy.bus().namePlaceAt())
                .put("holdFaultsAt", policy.bus().holdFaultsAt()).put("lowSupplyVoltsPer12", policy.bus().lowSupplyVoltsPer12());
        byWord(bus.putObject("faultOdds"), ODDS, policy.bus().faultOdds());
        byWord(bus.putObject("testMinutes"), MINUTES, policy.bus().testMinutes());
        policy.bus().highLowOhm().ifPresent(range -> bus.putObject("highLowOhm").put("low", range.low()).put("high", range.high()));
        ObjectNode air = node.putObject("chargeAir");
        air.put("maxLossShare", policy.chargeAir().maxLossShare()).put("holdLossShare", policy.chargeAir().holdLossShare());
        policy.chargeAir().maxOrificeMm().ifPresent(limit -> air.put("maxOrificeMm", limit));
        instruments(node.putObject("instruments"), policy.instruments());
        node.putObject("drift").put("km", policy.drift().km()).put("days", policy.drift().days());
        node.putObject("fleet").put("worstShare", policy.worstShare());
        ObjectNode readiness = node.putObject("readiness");
        readiness.put("riskCaution", policy.readiness().riskCaution()).put("riskHold", policy.readiness().riskHold())
                .put("standardTripKm", policy.readiness().standardTripKm());
        var holdFaults = readiness.putArray("holdFaults");
        policy.readiness().holdFaults().forEach(holdFaults::add);
        node.put("display", policy.display() == Policy.Display.US ? "us" : "metric");
        return node;
    }

    private static void byWord(ObjectNode node, Map<String, Double> defaults, Map<String, Double> set) {
        defaults.forEach((word, value) -> node.put(word, set.getOrDefault(word, value)));
    }

    private static void window(ObjectNode node, Window window) {
        node.put("days", window.days()).put("km", window.km()).put("engineHours", window.engineHours());
    }

    private static void instruments(ObjectNode node, InstrumentPolicy policy) {
        node.put("pressureShare", policy.pressureShare()).put("pressurePa", policy.pressurePa()).put("flowShare", policy.flowShare())
                .put("flowLitresPerMinute", policy.flowLitresPerMinute()).put("temperatureK", policy.temperatureK())
                .put("ambientPa", policy.ambientPa())
                .put("volumeShare", policy.volumeShare()).put("timeS", policy.timeS()).put("dischargeCoefficient", policy.dischargeCoefficient())
                .put("dischargeCoefficientUncertainty", policy.dischargeCoefficientUncertainty())
                .put("meterRelativeAccuracy", policy.meterRelativeAccuracy()).put("meterDigitOhm", policy.meterDigitOhm())
                .put("leadOhm", policy.leadOhm())
                .put("terminatorShare", policy.terminatorShare());
    }
}
