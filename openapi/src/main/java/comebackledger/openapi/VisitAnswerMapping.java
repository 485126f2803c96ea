package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.databind.util.RawValue;
import comebackledger.judge.CodeFact;
import comebackledger.judge.CountedCode;
import comebackledger.judge.JudgedTest;
import comebackledger.judge.Occurrence;
import comebackledger.judge.Warning;
import comebackledger.ledger.RecordedVisit;
import comebackledger.ledger.Stored;
import comebackledger.visit.Place;
import java.util.Locale;

/** A recorded visit with what was made of it, to the wire. */
public final class VisitAnswerMapping {
    private VisitAnswerMapping() {}

    public static ObjectNode toWire(RecordedVisit recorded) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("unit", recorded.unit()).put("visit", recorded.visit()).put("revision", recorded.revision())
                .put("receivedAt", recorded.receivedAt().toString());
        // As the text it was kept in, so that no digit changes.
        node.putRawValue("evidence", new RawValue(recorded.evidence()));
        ArrayNode judgements = node.putArray("judgements");
        for (JudgedTest test : recorded.judgements()) {
            ObjectNode item = judgements.addObject().put("test", test.pointer()).put("verdict", test.verdict().name().toLowerCase(Locale.ROOT));
            item.set("result", result(test));
        }
        ArrayNode codes = node.putArray("codes");
        recorded.codes().forEach(counted -> codes.add(code(counted)));
        ArrayNode occurrences = node.putArray("occurrences");
        for (Occurrence occurrence : recorded.occurrences()) {
            ObjectNode item = occurrences.addObject().put("place", occurrence.place().toString());
            item.put("kind", occurrence.kind().name().toLowerCase(Locale.ROOT).replace('_', '-')).put("confirmed", occurrence.confirmed());
            if (!occurrence.accusedPlaces().isEmpty()) {
                item.set("accusedPlaces", TrailMapping.strings(occurrence.accusedPlaces().stream().map(Place::toString).toList()));
            }
            item.set("evidence", TrailMapping.strings(occurrence.evidence()));
        }
        ArrayNode warnings = node.putArray("warnings");
        for (Warning warning : recorded.warnings()) {
            warnings.addObject().put("pointer", warning.pointer()).put("detail", warning.detail());
        }
        recorded.standing().ifPresent(standing -> node.set("standing", TrailMapping.standing(standing)));
        return node;
    }

    /** One row of a list of visits: a revision without what was made of it. */
    public static ObjectNode toWire(Stored.VisitRevision revision) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("unit", revision.unit()).put("visit", revision.visit()).put("revision", revision.revision())
                .put("arrivedAt", revision.arrivedAt().toString()).put("receivedAt", revision.receivedAt().toString());
        if (revision.voided()) {
            node.put("void", true);
        }
        node.putRawValue("evidence", new RawValue(revision.evidence()));
        return node;
    }

    private static ObjectNode code(CountedCode counted) {
        CodeFact code = counted.code();
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("at", code.pointer()).put("code", code.label()).put("status", code.status().word()).put("counts", counted.counts());
        code.system().ifPresent(system -> node.put("system", system));
        code.accused().ifPresent(module -> node.put("accused", module));
        code.reporter().ifPresent(module -> node.put("reportedBy", module));
        code.occurrences().ifPresent(count -> node.put("occurrences", count));
        return node;
    }

    private static ObjectNode result(JudgedTest test) {
        return switch (test) {
            case JudgedTest.Bus bus -> BusMapping.toWire(bus.result(), bus.system());
            case JudgedTest.Air air -> AirMapping.toWire(air.result());
        };
    }
}
