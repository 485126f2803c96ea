package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertInstanceOf;

import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Outcome;
import comebackledger.ledger.RecordedVisit;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.PolicyMapping;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** A real ledger whose clock the test sets, and the few words that visits of readiness tests are made of. */
final class DispatchStory implements AutoCloseable {
    /** One network with a safety module, one without; a charge air whose engine is known. */
    static final String BUILD = """
            {"build": {"supplyVolts": 12,
              "networks": [{"name": "j1939-1", "safety": true, "trunkMetres": 18.0, "wireOhmPerMetre": 0.021, "connector": {"atMetres": 8.0},
                 "nodes": [{"module": "engine", "address": 0, "atMetres": 1.0}, {"module": "dash", "address": 23, "atMetres": 9.0},
                           {"module": "brakes", "address": 11, "atMetres": 15.5, "safety": true}]},
                {"name": "body", "trunkMetres": 12.0, "connector": {"atMetres": 1.0},
                 "nodes": [{"module": "doors", "address": 236, "atMetres": 3.0}, {"module": "lights", "address": 30, "atMetres": 9.0}]}],
              "chargeAir": {"ratedBoost": {"value": 30, "unit": "psi"}, "maxTestPressure": {"value": 20, "unit": "psi"},
                            "spots": ["cooler-core", "cooler-outlet-boot"]},
              "engine": {"displacement": {"value": 6.7, "unit": "L"}, "ratedSpeedRpm": 2400, "volumetricEfficiency": 0.9, "strokes": 4}}}
            """;

    private final JdbcStore store;
    private final Ledger ledger;
    private Instant now = Instant.EPOCH;

    DispatchStory(Path folder) {
        store = JdbcStore.embedded(folder);
        ledger = new Ledger(store, new LedgerCodec(), () -> now, (_, _, _, _) -> {});
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    DispatchStory at(String instant) {
        now = Instant.parse(instant);
        return this;
    }

    void unit(String fleet, String unit, String json) {
        ledger.putUnit(new Caller(fleet, "test"), UnitMapping.toCore(unit, bytes(json)));
    }

    RecordedVisit visit(String fleet, String unit, String visit, String json) {
        Outcome<RecordedVisit> outcome = ledger.putVisit(new Caller(fleet, "test"), unit, VisitMapping.toCore(visit, bytes(json), now),
                OptionalInt.empty());
        return assertInstanceOf(Outcome.Created.class, outcome, visit).answer() instanceof RecordedVisit recorded ? recorded : null;
    }

    /** @param follows the version it replaces, 0 for the first */
    void policy(String fleet, int follows, String json) {
        ledger.putPolicy(new Caller(fleet, "test"), PolicyMapping.toCore(bytes(json)), OptionalInt.of(follows));
    }

    Optional<ReadinessAnswer> ask(String fleet, String unit, Instant at, Trip trip) {
        return ledger.dispatch().readiness(fleet, new DispatchDesk.Question(unit, trip), Optional.of(at));
    }

    ReadinessAnswer ask(String fleet, String unit, Instant at) {
        return ask(fleet, unit, at, Trip.STANDARD).orElseThrow();
    }

    List<Optional<ReadinessAnswer>> askAll(String fleet, List<String> units, Instant at) {
        return ledger.dispatch().readiness(fleet, units.stream().map(unit -> new DispatchDesk.Question(unit, Trip.STANDARD)).toList(),
                Optional.of(at));
    }

    Ledger ledger() {
        return ledger;
    }

    @Override
    public void close() {
        store.close();
    }

    // Visits.

    /** Eight hours from eight in the morning. */
    static String stay(String day, String... parts) {
        return visit(day + "T08:00:00Z", Optional.of(day + "T16:00:00Z"), parts);
    }

    static String visit(String arrivedAt, Optional<String> releasedAt, String... parts) {
        return Stream.concat(Stream.of("\"arrivedAt\": \"" + arrivedAt + "\""),
                Stream.concat(releasedAt.stream().map(at -> "\"releasedAt\": \"" + at + "\""), Stream.of(parts)))
                .collect(Collectors.joining(", ", "{", "}"));
    }

    /** When a shop sends it: before the truck leaves, so that the release lies ahead. */
    static String halfAnHourBeforeItsEnd(String visit) {
        String last = visit.replaceAll("(?s).*\"(?:arrivedAt|releasedAt)\": \"([^\"]*)\".*", "$1");
        return Instant.parse(last).minusSeconds(1800).toString();
    }

    static String odometer(int km) {
        return "\"meters\": {\"odometer\": {\"value\": " + km + ", \"unit\": \"km\"}}";
    }

    static String checks(String... checks) {
        return "\"busChecks\": [" + String.join(", ", checks) + "]";
    }

    /** @param ohm between the lines; empty for a roll call alone. @param silent of the modules called; those of j1939-1 or of body */
    static String check(String network, String stage, String ohm, String... silent) {
        List<String> modules = network.equals("body") ? List.of("doors", "lights") : List.of("engine", "dash", "brakes");
        List<String> answered = modules.stream().filter(module -> !List.of(silent).contains(module)).toList();
        return "{\"network\": \"" + network + "\", \"stage\": \"" + stage + "\""
                + (ohm.isEmpty() ? "" : ", \"power\": \"off\", \"highLow\": {\"value\": " + ohm + ", \"unit\": \"ohm\"}")
                + ", \"rollCall\": {\"answered\": [" + quoted(answered) + "], \"silent\": [" + quoted(List.of(silent)) + "]}}";
    }

    /** Both lines near the ground rail, and nobody answers. */
    static String deadShort(String stage) {
        return "{\"network\": \"j1939-1\", \"stage\": \"" + stage + "\", \"power\": \"off\", \"highLow\": {\"value\": 60.4, \"unit\": \"ohm\"}, "
                + "\"highGround\": {\"value\": 2.9, \"unit\": \"ohm\"}, \"lowGround\": {\"value\": 61.8, \"unit\": \"ohm\"}}";
    }

    private static String quoted(List<String> names) {
        return names.stream().map(name -> "\"" + name + "\"").collect(Collectors.joining(", "));
    }

    static String repairs(String... repairs) {
        return "\"repairs\": [" + String.join(", ", repairs) + "]";
    }

    static String repair(String place, boolean claimed) {
        return "{\"place\": \"" + place + "\", \"action\": \"replaced\", \"claimsFixed\": " + claimed + "}";
    }

    static String air(String... tests) {
        return "\"chargeAirTests\": [" + String.join(", ", tests) + "]";
    }

    static String heldFlow(String stage, double litresPerMinute) {
        return "{\"stage\": \"" + stage
                + "\", \"method\": \"held-flow\", \"testPressure\": {\"value\": 15, \"unit\": \"psi\"}, \"flow\": {\"value\": "
                + litresPerMinute + ", \"unit\": \"L/min\"}}";
    }

    static String smoke(String stage, String... leaks) {
        return "{\"stage\": \"" + stage + "\", \"method\": \"smoke\", \"leaksAt\": [" + quoted(List.of(leaks)) + "]}";
    }

    static String code(String code, String reporter) {
        return "\"codes\": [{\"code\": \"" + code + "\", \"network\": \"j1939-1\", \"reportedBy\": \"" + reporter + "\", \"status\": \"active\"}]";
    }

    static String lamps(String field, String json) {
        return "\"" + field + "\": {" + json + "}";
    }

    static String outOfService(boolean declared, boolean completed) {
        return "\"outOfService\": {\"declared\": " + declared + ", \"requiredRepairsCompleted\": " + completed + "}";
    }

    static String driver(String json) {
        return "\"driverReport\": {" + json + "}";
    }
}
