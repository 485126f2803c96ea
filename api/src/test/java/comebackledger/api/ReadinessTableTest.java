package comebackledger.api;

import static comebackledger.api.DispatchStory.air;
import static comebackledger.api.DispatchStory.check;
import static comebackledger.api.DispatchStory.checks;
import static comebackledger.api.DispatchStory.code;
import static comebackledger.api.DispatchStory.deadShort;
import static comebackledger.api.DispatchStory.driver;
import static comebackledger.api.DispatchStory.heldFlow;
import static comebackledger.api.DispatchStory.lamps;
import static comebackledger.api.DispatchStory.outOfService;
import static comebackledger.api.DispatchStory.repair;
import static comebackledger.api.DispatchStory.repairs;
import static comebackledger.api.DispatchStory.smoke;
import static comebackledger.api.DispatchStory.stay;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.readiness.Answer;
import comebackledger.readiness.ReadinessAnswer;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every reason of RULES 8 but the risk, each alone and beside others, on both sides of where it begins and ends; asked of the real ledger. */
class ReadinessTableTest {
    private static final String FLEET = "table";
    private static final String BRAKES = "network.j1939-1.brakes";
    private static final String BOOT = "charge-air.cooler-outlet-boot";
    private static final String DM1 = "\"captures\": [{\"format\": \"candump\", \"network\": \"j1939-1\", \"stage\": \"%s\", \"text\": "
            + "\"(1.0) can0 18FECA0B#%sFF00000000FFFF\"}]";
    private static final String ALL_ON = "\"redStop\": true, \"amberWarning\": true, \"malfunction\": true, \"protect\": true";
    private static final String ALL_LAMPS = "hold: red-stop-lamp, amber-lamp, malfunction-lamp, protect-lamp";

    @TempDir
    static Path folder;

    private static DispatchStory story;
    private static final List<String> UNITS = new ArrayList<>();

    /**
     * One unit.
     *
     * @param expected the answer, then the reasons by weight, with their place where they have one
     */
    private record Row(String name, String at, String expected, List<String> visits) {
        @Override
        public String toString() {
            return name;
        }
    }

    private static Row row(String name, String at, String expected, String... visits) {
        return new Row(name, at, expected, List.of(visits));
    }

    @BeforeAll
    static void open() {
        story = new DispatchStory(folder).at("2025-01-01T00:00:00Z");
        // Risk has a table of its own: here it never makes a reason.
        story.policy(FLEET, 0, "{\"readiness\": {\"riskCaution\": 1, \"riskHold\": 1}}");
        rows().forEach(ReadinessTableTest::put);
    }

    @AfterAll
    static void close() {
        story.close();
    }

    private static String id(Row row) {
        return row.name().replaceAll("[^A-Za-z0-9]+", "-");
    }

    private static void put(Row row) {
        UNITS.add(id(row));
        story.at("2025-01-01T00:00:00Z").unit(FLEET, id(row), DispatchStory.BUILD);
        for (int i = 0; i < row.visits().size(); i++) {
            story.at(DispatchStory.halfAnHourBeforeItsEnd(row.visits().get(i))).visit(FLEET, id(row), "WO-" + (i + 1), row.visits().get(i));
        }
    }

    private static String told(ReadinessAnswer answer) {
        return answer.answer().word()
                + answer.reasons().stream().map(reason -> reason.kind().word() + reason.place().map(place -> " " + place).orElse(""))
                        .collect(Collectors.joining(", ", answer.reasons().isEmpty() ? "" : ": ", ""));
    }

    static Stream<Row> rows() {
        return Stream.of(declared(), lampsOn(), shop(), silences(), networks(), losses(), ages(), flags(), together()).flatMap(List::stream);
    }

    private static List<Row> declared() {
        return List.of(
                row("healthy", "2026-03-02T00:00:00Z", "ready", stay("2026-03-01", checks(check("j1939-1", "as-found", "60.3")))),
                row("times and nothing else", "2026-03-02T00:00:00Z", "ready", stay("2026-03-01")),
                row("declared", "2026-03-02T00:00:00Z", "hold: out-of-service", stay("2026-03-01", outOfService(true, false))),
                row("declared, later visit silent on it", "2026-03-06T00:00:00Z", "hold: out-of-service",
                        stay("2026-03-01", outOfService(true, false)),
                        stay("2026-03-05")),
                row("declared, later says not declared but not completed", "2026-03-06T00:00:00Z", "hold: out-of-service",
                        stay("2026-03-01", outOfService(true, false)), stay("2026-03-05", outOfService(false, false))),
                row("declared, later lifted", "2026-03-06T00:00:00Z", "ready", stay("2026-03-01", outOfService(true, false)),
                        stay("2026-03-05", outOfService(false, true))),
                row("declared and completed in one visit", "2026-03-02T00:00:00Z", "ready", stay("2026-03-01", outOfService(true, true))),
                row("lifted, then declared again", "2026-03-08T00:00:00Z", "hold: out-of-service", stay("2026-03-01", outOfService(true, false)),
                        stay("2026-03-05", outOfService(false, true)), stay("2026-03-07", outOfService(true, false))),
                row("defect", "2026-03-02T00:00:00Z", "hold: reported-defect-uncertified", stay("2026-03-01", driver("\"defects\": [\"lamp\"]"))),
                row("defect certified at once", "2026-03-02T00:00:00Z", "ready",
                        stay("2026-03-01", driver("\"defects\": [\"lamp\"], \"certification\": \"repair-unnecessary\""))),
                row("defect certified later", "2026-03-06T00:00:00Z", "ready", stay("2026-03-01", driver("\"defects\": [\"lamp\"]")),
                        stay("2026-03-05", driver("\"defects\": [], \"certification\": \"repaired\""))),
                row("later report without defects lifts nothing", "2026-03-06T00:00:00Z", "hold: reported-defect-uncertified",
                        stay("2026-03-01", driver("\"defects\": [\"lamp\"]")), stay("2026-03-05", driver("\"defects\": []"))),
                row("certified, then a new defect", "2026-03-08T00:00:00Z", "hold: reported-defect-uncertified",
                        stay("2026-03-01", driver("\"defects\": [\"lamp\"], \"certification\": \"repaired\"")),
                        stay("2026-03-05", driver("\"defects\": [\"horn\"]"))));
    }

    private static List<Row> lampsOn() {
        return List.of(
                row("red from the dash", "2026-03-02T00:00:00Z", "hold: red-stop-lamp", stay("2026-03-01", lamps("lamps", "\"redStop\": true"))),
                row("amber from the dash", "2026-03-02T00:00:00Z", "caution: amber-lamp",
                        stay("2026-03-01", lamps("lamps", "\"amberWarning\": true"))),
                row("malfunction from the dash", "2026-03-02T00:00:00Z", "caution: malfunction-lamp",
                        stay("2026-03-01", lamps("lamps", "\"malfunction\": true"))),
                row("protect from the dash", "2026-03-02T00:00:00Z", "caution: protect-lamp",
                        stay("2026-03-01", lamps("lamps", "\"protect\": true"))),
                row("every lamp from the dash", "2026-03-02T00:00:00Z", ALL_LAMPS, stay("2026-03-01", lamps("lamps", ALL_ON))),
                row("every lamp from a sender", "2026-03-02T00:00:00Z", ALL_LAMPS, stay("2026-03-01", String.format(DM1, "as-found", "55"))),
                row("red from a sender at release", "2026-03-02T00:00:00Z", "hold: red-stop-lamp",
                        stay("2026-03-01", String.format(DM1, "as-left", "10"))),
                row("dash dark and a sender red", "2026-03-02T00:00:00Z", "hold: red-stop-lamp",
                        stay("2026-03-01", lamps("lamps", "\"redStop\": false"), String.format(DM1, "as-found", "10"))),
                row("on at arrival, off at release", "2026-03-02T00:00:00Z", "ready", stay("2026-03-01", lamps("lamps", "\"redStop\": true"),
                        lamps("lampsAtRelease", "\"redStop\": false"))),
                row("off at arrival, on at release", "2026-03-02T00:00:00Z", "hold: red-stop-lamp",
                        stay("2026-03-01", lamps("lamps", "\"redStop\": false"), lamps("lampsAtRelease", "\"redStop\": true"))),
                row("on, later visit reports no lamps", "2026-03-06T00:00:00Z", "hold: red-stop-lamp",
                        stay("2026-03-01", lamps("lamps", "\"redStop\": true")), stay("2026-03-05")),
                row("on, later visit reports it off", "2026-03-06T00:00:00Z", "ready", stay("2026-03-01", lamps("lamps", "\"redStop\": true")),
                        stay("2026-03-05", lamps("lamps", "\"redStop\": false"))),
                row("on, later visit reports another lamp only", "2026-03-06T00:00:00Z", "hold: red-stop-lamp",
                        stay("2026-03-01", lamps("lamps", "\"redStop\": true")), stay("2026-03-05", lamps("lamps", "\"amberWarning\": false"))));
    }

    private static List<Row> shop() {
        String open = DispatchStory.visit("2026-03-01T08:00:00Z", Optional.empty());
        return List.of(
                row("not released", "2026-03-02T00:00:00Z", "hold: in-shop", open),
                row("a second before its release", "2026-03-01T15:59:59Z", "hold: in-shop", stay("2026-03-01")),
                row("at its release", "2026-03-01T16:00:00Z", "ready", stay("2026-03-01")),
                row("an earlier visit never released", "2026-03-06T00:00:00Z", "ready", open, stay("2026-03-05")));
    }

    private static List<Row> silences() {
        String silent = stay("2026-03-01", checks(check("j1939-1", "as-found", "60.3", "brakes")));
        return List.of(
                row("safety module silent", "2026-03-02T00:00:00Z", "hold: safety-module-silent " + BRAKES, silent),
                row("another module silent", "2026-03-02T00:00:00Z", "caution: open-fault network.j1939-1.engine",
                        stay("2026-03-01", checks(check("j1939-1", "as-found", "60.3", "engine")))),
                row("silent, then not called", "2026-03-06T00:00:00Z", "hold: safety-module-silent " + BRAKES, silent, stay("2026-03-05")),
                row("silent, then answers", "2026-03-06T00:00:00Z", "ready", silent,
                        stay("2026-03-05", checks(check("j1939-1", "as-found", "60.3")))),
                row("silent, a claimed repair elsewhere on its network", "2026-03-06T00:00:00Z",
                        "caution: open-fault " + BRAKES + ", not-rechecked " + BRAKES + ", unproven-fix network.j1939-1.dash", silent,
                        stay("2026-03-05", repairs(repair("network.j1939-1.dash", true)))),
                row("silent, repaired, not called again", "2026-03-02T00:00:00Z", "caution: not-rechecked " + BRAKES + ", unproven-fix " + BRAKES,
                        stay("2026-03-01", checks(check("j1939-1", "as-found", "60.3", "brakes")), repairs(repair(BRAKES, true)))),
                row("silent, repaired, called and answers", "2026-03-02T00:00:00Z", "ready", stay("2026-03-01",
                        checks(check("j1939-1", "as-found", "60.3", "brakes"), check("j1939-1", "as-left", "60.3")), repairs(repair(BRAKES, true)))),
                row("silent, something done and nothing claimed", "2026-03-02T00:00:00Z", "caution: open-fault " + BRAKES,
                        stay("2026-03-01", checks(check("j1939-1", "as-found", "60.3", "brakes")), repairs(repair(BRAKES, false)))),
                row("silent, a repair on another network", "2026-03-02T00:00:00Z",
                        "hold: safety-module-silent " + BRAKES + ", unproven-fix network.body.lights",
                        stay("2026-03-01", checks(check("j1939-1", "as-found", "60.3", "brakes")), repairs(repair("network.body.lights", true)))),
                row("silent with the supply too low", "2026-03-02T00:00:00Z", "caution: open-fault supply.vehicle",
                        stay("2026-03-01", checks(check("j1939-1", "as-found", "60.3", "brakes").replace("\"stage\"",
                                "\"supplyVoltage\": {\"value\": 10.9, \"unit\": \"V\"}, \"stage\"")))));
    }

    private static List<Row> networks() {
        String oneTerminator = stay("2026-03-01", checks(check("j1939-1", "as-found", "120.6")));
        return List.of(
                row("dead short", "2026-03-02T00:00:00Z", "hold: safety-network-fault network.j1939-1.trunk",
                        stay("2026-03-01", checks(deadShort("as-found")))),
                row("dead short of a network without safety", "2026-03-02T00:00:00Z", "caution: open-fault network.body.trunk",
                        stay("2026-03-01", checks(deadShort("as-found").replace("j1939-1", "body")))),
                // A break that leaves every called module answering counts as a missing terminator.
                row("one terminator, everybody answers", "2026-03-02T00:00:00Z", "caution: open-fault network.j1939-1.trunk", oneTerminator),
                row("dead short repaired and proven", "2026-03-02T00:00:00Z", "ready", stay("2026-03-01",
                        checks(deadShort("as-found"), "{\"network\": \"j1939-1\", \"stage\": \"as-left\", \"power\": \"off\", "
                                + "\"highLow\": {\"value\": 60.3, \"unit\": \"ohm\"}, \"highGround\": {\"value\": 60, \"unit\": \"kohm\"}, "
                                + "\"lowGround\": {\"value\": 60, \"unit\": \"kohm\"}}"),
                        repairs(repair("network.j1939-1.trunk", true)))),
                row("dead short repaired, not measured again", "2026-03-02T00:00:00Z", "caution: unproven-fix network.j1939-1.trunk",
                        stay("2026-03-01", checks(deadShort("as-found")), repairs(repair("network.j1939-1.trunk", true)))),
                row("codes alone", "2026-03-02T00:00:00Z", "caution: open-fault " + BRAKES, stay("2026-03-01", code("U0121", "engine"))));
    }

    private static List<Row> losses() {
        String large = stay("2026-03-01", air(heldFlow("as-found", 1800)));
        return List.of(
                row("large loss", "2026-03-02T00:00:00Z", "hold: air-loss-above-limit charge-air", large),
                row("small loss", "2026-03-02T00:00:00Z", "ready", stay("2026-03-01", air(heldFlow("as-found", 26)))),
                row("loss above the test limit alone", "2026-03-02T00:00:00Z", "caution: open-fault charge-air.unlocated",
                        stay("2026-03-01", air(heldFlow("as-found", 600)))),
                row("large loss, then tight", "2026-03-06T00:00:00Z", "ready", large, stay("2026-03-05", air(heldFlow("as-found", 26)))),
                row("large loss, repaired, not tested", "2026-03-06T00:00:00Z", "caution: not-rechecked charge-air, unproven-fix " + BOOT
                        + ", unproven-fix charge-air.unlocated", large,
                        stay("2026-03-05", repairs(repair(BOOT, true)))),
                row("large loss, repaired and tight", "2026-03-06T00:00:00Z", "ready", large,
                        stay("2026-03-05", repairs(repair(BOOT, true)), air(heldFlow("as-left", 26)))),
                row("large loss, something done, nothing claimed", "2026-03-06T00:00:00Z", "caution: open-fault charge-air.unlocated", large,
                        stay("2026-03-05", repairs(repair(BOOT, false)))),
                row("large loss, repaired, smoke still shows it", "2026-03-06T00:00:00Z", "caution: open-fault " + BOOT
                        + ", open-fault charge-air.unlocated", large,
                        stay("2026-03-05", repairs(repair(BOOT, true)), air(smoke("as-left", "cooler-outlet-boot")))));
    }

    private static List<Row> ages() {
        return List.of(
                row("never seen", "2026-03-02T00:00:00Z", "unknown: never-seen"),
                row("seen only later", "2026-02-28T00:00:00Z", "unknown: never-seen", stay("2026-03-01")),
                row("at exactly 180 days", "2026-08-28T08:00:00Z", "ready", stay("2026-03-01")),
                row("a second past 180 days", "2026-08-28T08:00:01Z", "unknown: evidence-too-old", stay("2026-03-01")),
                row("withdrawn visit", "2026-03-02T00:00:00Z", "unknown: never-seen", "{\"arrivedAt\": \"2026-03-01T08:00:00Z\", \"void\": true}"));
    }

    private static List<Row> flags() {
        String first = stay("2026-03-01", checks(check("j1939-1", "as-found", "60.3", "engine"), check("j1939-1", "as-left", "60.3")),
                repairs(repair("network.j1939-1.engine", true)));
        String again = checks(check("j1939-1", "as-found", "60.3", "engine"));
        String elsewhere = checks(check("j1939-1", "as-found", "60.3", "dash"));
        return List.of(
                row("back at exactly 90 days", "2026-06-01T00:00:00Z",
                        "caution: open-fault network.j1939-1.engine, comeback network.j1939-1.engine", first,
                        DispatchStory.visit("2026-05-30T16:00:00Z", Optional.of("2026-05-30T20:00:00Z"), again)),
                row("back a second past 90 days", "2026-06-01T00:00:00Z", "caution: open-fault network.j1939-1.engine", first,
                        DispatchStory.visit("2026-05-30T16:00:01Z", Optional.of("2026-05-30T20:00:00Z"), again)),
                row("moved inside the window", "2026-06-01T00:00:00Z", "caution: open-fault network.j1939-1.dash, moving network.j1939-1.dash", first,
                        DispatchStory.visit("2026-05-30T16:00:00Z", Optional.of("2026-05-30T20:00:00Z"), elsewhere)),
                row("unproven at exactly 90 days", "2026-05-30T16:00:00Z", "caution: unproven-fix network.j1939-1.engine",
                        stay("2026-03-01", repairs(repair("network.j1939-1.engine", true)))),
                row("unproven a second past 90 days", "2026-05-30T16:00:01Z", "ready",
                        stay("2026-03-01", repairs(repair("network.j1939-1.engine", true)))));
    }

    private static List<Row> together() {
        return List.of(
                row("hold beside unknown beside caution", "2026-10-01T00:00:00Z",
                        "hold: out-of-service, evidence-too-old, open-fault network.j1939-1.engine, amber-lamp",
                        stay("2026-03-01", outOfService(true, false), lamps("lamps", "\"amberWarning\": true"),
                                checks(check("j1939-1", "as-found", "60.3", "engine")))),
                row("unknown beside caution", "2026-10-01T00:00:00Z", "unknown: evidence-too-old, open-fault network.j1939-1.engine",
                        stay("2026-03-01", checks(check("j1939-1", "as-found", "60.3", "engine")))),
                row("every hold at once", "2026-03-02T00:00:00Z",
                        "hold: out-of-service, reported-defect-uncertified, red-stop-lamp, in-shop, safety-module-silent " + BRAKES
                                + ", safety-network-fault network.j1939-1.trunk, air-loss-above-limit charge-air, amber-lamp",
                        DispatchStory.visit("2026-03-01T08:00:00Z", Optional.empty(), outOfService(true, false), driver("\"defects\": [\"lamp\"]"),
                                lamps("lamps", "\"redStop\": true, \"amberWarning\": true"),
                                checks(deadShort("as-found"), check("j1939-1", "as-found", "", "engine", "dash", "brakes")),
                                air(heldFlow("as-found", 1800)))));
    }

    @ParameterizedTest
    @MethodSource("rows")
    void reasons_areThoseOfTheRules(Row row) {
        assertEquals(row.expected(), told(story.ask(FLEET, id(row), Instant.parse(row.at()))));
    }

    /** What is promised to stay stays until the last second of the promise; the promise is kept short of a day. */
    @ParameterizedTest
    @MethodSource("rows")
    void answer_holdsUntilItSaysItMayChange(Row row) {
        Instant at = Instant.parse(row.at());
        ReadinessAnswer now = story.ask(FLEET, id(row), at);

        assertTrue(now.validUntil().isAfter(at) && !now.validUntil().isAfter(at.plusSeconds(86_400)), now.validUntil().toString());
        assertEquals(told(now), told(story.ask(FLEET, id(row), now.validUntil().minusSeconds(1))));
    }

    @Test
    void bulk_answersAsTheSingleCallDoes() {
        Instant at = Instant.parse("2026-03-06T00:00:00Z");
        List<String> asked = new ArrayList<>(UNITS);
        asked.add("not-registered");

        List<Optional<ReadinessAnswer>> answers = story.askAll(FLEET, asked, at);

        assertEquals(asked.stream().map(unit -> story.askAll(FLEET, List.of(unit), at).getFirst()).toList(), answers);
        assertEquals(Optional.empty(), answers.getLast());
        assertTrue(answers.stream().flatMap(Optional::stream).map(ReadinessAnswer::answer).distinct().toList().containsAll(List.of(Answer.values())));
    }
}
