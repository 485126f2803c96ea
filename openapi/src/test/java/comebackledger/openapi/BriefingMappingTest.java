package comebackledger.openapi;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.briefing.Briefing;
import comebackledger.briefing.ReadingSeries;
import comebackledger.briefing.ShelvedVisit;
import comebackledger.judge.VisitJudge;
import comebackledger.policy.Policy;
import comebackledger.trail.Fold;
import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import comebackledger.visit.Visit;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;

/** A briefing and its readings, every kind of member in them, against the contract with nothing beside it allowed. */
class BriefingMappingTest {
    private static final Instant AT = Instant.parse("2026-04-01T00:00:00Z");
    private static final Unit UNIT = UnitMapping.toCore("T-104", bytes("""
            {"build": {"supplyVolts": 12, "networks": [{"name": "j1939-1", "safety": true, "trunkMetres": 18.0,
               "nodes": [{"module": "engine", "address": 0, "atMetres": 1.0}, {"module": "brakes", "address": 11, "atMetres": 15.5}]}],
             "chargeAir": {"ratedBoost": {"value": 200, "unit": "kPa"}, "spots": ["cooler-outlet-boot"]},
             "engine": {"displacement": {"value": 12.9, "unit": "L"}, "ratedSpeedRpm": 1800}}}
            """)).decoded();
    private static final String CHECK = """
            {"network": "j1939-1", "stage": "as-found", "power": "off", "highLow": {"value": 120.5, "unit": "ohm"},
             "rollCall": {"answered": ["engine", "brakes"], "silent": []}}
            """;
    private static final List<Visit> VISITS = List.of(visit("WO-1", "2026-01-05", 400_000, """
            "codes": [{"code": "U0121", "status": "active", "reportedBy": "engine"}], "repairs": [{"place": "network.j1939-1.terminator-b",
             "action": "replaced", "cause": "water", "part": "part 7", "claimsFixed": true}]"""), visit("WO-2", "2026-03-01", 409_000, """
            "chargeAirTests": [{"stage": "as-found", "method": "held-flow", "testPressure": {"value": 15, "unit": "psi"},
             "flow": {"value": 22, "unit": "L/min"}, "leaksAt": ["cooler-outlet-boot"]}]"""));

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static Visit visit(String id, String day, int km, String more) {
        return VisitMapping.toCore(id, bytes("{\"arrivedAt\": \"" + day + "T08:00:00Z\", \"releasedAt\": \"" + day
                + "T16:00:00Z\", \"complaint\": \"lamp\", \"note\": \"none\", \"meters\": {\"odometer\": {\"value\": " + km
                + ", \"unit\": \"km\"}, \"engineHours\": {\"value\": " + km / 50 + ", \"unit\": \"h\"}}, \"busChecks\": [" + CHECK + "], " + more
                + "}"), AT).decoded();
    }

    private static final UnitView VIEW = UnitView.of(
            Fold.of(VISITS.stream().map(visit -> VisitJudge.judge(UNIT, visit, Policy.DEFAULT).facts()).toList(), Policy.DEFAULT), Policy.DEFAULT,
            AT);

    @Test
    void briefing_fitsTheContract() {
        JsonNode wire = BriefingMapping.toWire(Briefing.of(UNIT, VIEW, VISITS.stream().map(ShelvedVisit::of).toList()));

        assertEquals(List.of(), Contract.faultsOfClosed("Briefing", wire), wire.toPrettyString());
        assertEquals(List.of("network.j1939-1", "charge-air"), wire.findValuesAsText("system").stream().distinct().toList());
    }

    @Test
    void readings_fitTheContract() {
        List<ReadingSeries> all = ReadingSeries.all(VIEW);

        assertEquals(List.of(), Contract.faultsOfClosed("SeriesList", ReadingsMapping.list(all)));
        all.forEach(series -> assertEquals(List.of(), Contract.faultsOfClosed("ReadingSeries", ReadingsMapping.toWire(series)), series.series()));
        assertEquals(2, all.size());
    }
}
