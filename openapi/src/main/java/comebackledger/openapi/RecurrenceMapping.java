package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.fleet.Measure;
import comebackledger.fleet.Recurrence;
import comebackledger.ledger.PlannerDesk;
import comebackledger.openapi.calculation.MeanCumulativeMapping;

/** {@code GET /v1/fleet/recurrence}: how episodes add up with use. */
public final class RecurrenceMapping {
    private RecurrenceMapping() {}

    public static ObjectNode toWire(PlannerDesk.Answer<Recurrence> answer, Measure measure) {
        ObjectNode node = FleetMapping.answer(answer).put("measure", measure.word()).put("units", answer.content().watched().size());
        node.set("points", rows(answer));
        return node;
    }

    public static ArrayNode rows(PlannerDesk.Answer<Recurrence> answer) {
        return MeanCumulativeMapping.points(FleetMapping.thinned(answer.content().points()));
    }
}
