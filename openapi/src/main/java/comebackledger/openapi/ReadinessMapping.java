package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.ledger.DispatchDesk;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Reason;
import comebackledger.readiness.Risk;
import comebackledger.readiness.Trip;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** The dispatch answer to the wire, and the bulk question to core. */
public final class ReadinessMapping {
    /** Units in one bulk question. */
    public static final int UNITS_AT_MOST = 20_000;

    private ReadinessMapping() {}

    /** Many units asked about at once. */
    public record Questions(List<DispatchDesk.Question> questions, Optional<Instant> at) {}

    /** @throws Problem 400 or 422 with every fault */
    public static Questions toCore(byte[] body) {
        Faults faults = new Faults();
        Fields fields = Fields.of(Json.object(body), faults);
        if (!fields.has("units")) {
            fields.fault("units", "`units` is missing. Send a list of the units asked about; an empty list is answered by an empty one.");
        }
        List<DispatchDesk.Question> questions = fields.list("units", UNITS_AT_MOST, ReadinessMapping::question);
        Optional<Instant> at = fields.time("at");
        Optional<Questions> read = fields.build(() -> new Questions(questions, at));
        faults.throwIfAny();
        return read.orElseThrow();
    }

    private static Optional<DispatchDesk.Question> question(Fields fields) {
        Optional<String> unit = fields.required("unit", fields.identifier("unit"));
        OptionalDouble km = fields.number("distanceKm", 0.001, 1e5);
        OptionalDouble hours = fields.number("engineHours", 0.001, 1e4);
        return fields.build(() -> new DispatchDesk.Question(unit.orElseThrow(), new Trip(km, hours)));
    }

    public static ObjectNode toWire(ReadinessAnswer answer) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("unit", answer.unit()).put("answer", answer.answer().word()).put("at", answer.at().toString())
                .put("validUntil", answer.validUntil().toString()).put("policyVersion", answer.policyVersion());
        ArrayNode reasons = node.putArray("reasons");
        for (Reason reason : answer.reasons()) {
            ObjectNode item = reasons.addObject().put("reason", reason.kind().word()).put("weight", reason.weight().word());
            reason.place().ifPresent(place -> item.put("place", place));
            item.put("detail", reason.detail());
            item.set("grounds", TrailMapping.strings(reason.grounds()));
            item.put("source", reason.source());
        }
        answer.risk().ifPresent(risk -> risk(node, risk));
        answer.riskAbsent().ifPresent(why -> node.put("riskAbsent", why));
        ObjectNode basedOn = node.putObject("basedOn").put("visits", answer.visits());
        answer.lastVisit().ifPresent(last -> basedOn.put("lastVisit", last.visit()).put("lastVisitAt", last.arrivedAt().toString()));
        return node;
    }

    private static void risk(ObjectNode node, Risk risk) {
        ObjectNode item = node.putObject("risk").put("probability", risk.probability()).put("low", risk.low()).put("high", risk.high());
        ObjectNode per = item.putObject("per");
        risk.per().distanceKm().ifPresent(km -> per.put("distanceKm", km));
        risk.per().engineHours().ifPresent(hours -> per.put("engineHours", hours));
        risk.per().days().ifPresent(days -> per.put("days", days));
        item.put("basis", risk.basis());
        node.put("baselineVersion", risk.baselineVersion());
    }
}
