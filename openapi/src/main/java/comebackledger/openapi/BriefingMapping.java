package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.briefing.Briefing;
import comebackledger.trail.UnitMeters;

/** The technician's briefing to the wire. */
public final class BriefingMapping {
    private BriefingMapping() {}

    public static ObjectNode toWire(Briefing briefing) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("unit", briefing.unit()).put("asOf", briefing.asOf().toString()).put("summary", briefing.summary());
        ArrayNode trails = node.putArray("openTrails");
        briefing.openTrails().forEach(trail -> trails.add(TrailMapping.trail(trail)));
        ArrayNode readings = node.putArray("pastReadings");
        briefing.pastReadings().forEach(series -> readings.add(ReadingsMapping.toWire(series)));
        ArrayNode suspects = node.putArray("suspects");
        briefing.suspects().forEach(suspect -> suspects.add(suspect(suspect)));
        ArrayNode tests = node.putArray("nextTests");
        briefing.nextTests().forEach(test -> tests.add(test(test)));
        ArrayNode repairs = node.putArray("repairsTried");
        briefing.repairsTried().forEach(repair -> repairs.add(repair(repair)));
        ArrayNode visits = node.putArray("recentVisits");
        briefing.recentVisits().forEach(visit -> visits.add(visit(visit)));
        node.set("notKnown", TrailMapping.strings(briefing.notKnown()));
        return node;
    }

    private static ObjectNode suspect(Briefing.Suspect suspect) {
        ObjectNode node = suspect.onNetwork().map(told -> BusMapping.suspect(told, suspect.system()))
                .orElseGet(JsonNodeFactory.instance::objectNode);
        node.put("fault", suspect.fault());
        suspect.place().ifPresent(place -> node.put("place", place));
        return node.put("system", suspect.system()).put("probability", suspect.probability()).put("why", suspect.why())
                .put("visit", suspect.visit());
    }

    private static ObjectNode test(Briefing.NextTest test) {
        ObjectNode node = JsonNodeFactory.instance.objectNode().put("system", test.system()).put("test", test.test());
        test.place().ifPresent(place -> node.put("place", place));
        node.put("minutes", test.minutes()).put("gainBits", test.gainBits()).put("why", test.why());
        node.set("cautions", TrailMapping.strings(test.cautions()));
        return node;
    }

    private static ObjectNode repair(Briefing.RepairTried repair) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("place", repair.place()).put("visit", repair.visit()).put("at", repair.at().toString())
                .put("action", repair.action());
        repair.cause().ifPresent(cause -> node.put("cause", cause));
        repair.part().ifPresent(part -> node.put("part", part));
        node.put("claimsFixed", repair.claimsFixed());
        repair.held().ifPresent(held -> held(node.putObject("held"), held));
        repair.returnedBy().ifPresent(visit -> node.put("returnedBy", visit));
        return node.put("failedAtBench", repair.failedAtBench()).put("proven", repair.proven());
    }

    private static void held(ObjectNode node, UnitMeters.Since held) {
        node.put("days", held.days());
        held.km().ifPresent(km -> node.put("km", km));
        held.engineHours().ifPresent(hours -> node.put("engineHours", hours));
    }

    private static ObjectNode visit(Briefing.RecentVisit visit) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("visit", visit.visit()).put("arrivedAt", visit.arrivedAt().toString());
        visit.releasedAt().ifPresent(at -> node.put("releasedAt", at.toString()));
        visit.km().ifPresent(km -> node.put("km", km));
        visit.complaint().ifPresent(complaint -> node.put("complaint", complaint));
        visit.note().ifPresent(note -> node.put("note", note));
        node.set("codes", TrailMapping.strings(visit.codes()));
        ArrayNode done = node.putArray("repairs");
        for (Briefing.Done one : visit.done()) {
            ObjectNode item = done.addObject().put("place", one.place()).put("action", one.action());
            one.cause().ifPresent(cause -> item.put("cause", cause));
        }
        return node;
    }
}
