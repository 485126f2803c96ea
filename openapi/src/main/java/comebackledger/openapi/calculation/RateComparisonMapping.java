package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Fields;
import comebackledger.stat.RateComparison;
import comebackledger.stat.RateComparison.Count;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** {@code POST /v1/calculations/rate-comparison}: the rates of units beside their peers'. */
public final class RateComparisonMapping {
    /** Of one unit, and of all together. */
    static final int EVENTS_AT_MOST = 1_000_000_000;

    private static final double USUAL_FACTOR = 2; // common practice, no source
    private static final double USUAL_WORST_SHARE = 0.05; // common practice, no source
    private static final double LARGEST_FACTOR = 1e6;

    private RateComparisonMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault */
    public static JsonNode answer(Fields body) {
        List<Optional<String>> ids = new ArrayList<>();
        List<Count> counts = body.list("units", Figures.ENTRIES_AT_MOST, fields -> count(fields, ids));
        body.required("units", Optional.of(counts));
        double factor = Figures.above0(body, "factor", LARGEST_FACTOR).orElse(USUAL_FACTOR);
        double worstShare = Figures.share(body, "worstShare", USUAL_WORST_SHARE);
        Figures.refuseTwice(body, "units", ids);
        if (counts.stream().mapToDouble(Count::events).sum() > EVENTS_AT_MOST) {
            body.fault("units", "All units together have more than " + EVENTS_AT_MOST + " events, the limit of one calculation.");
        }
        if (body.faults().count() == 0 && counts.isEmpty()) {
            body.fault("units", "`units` is empty: nothing was observed, so there is nothing to compare. Send at least one unit.");
        }
        body.refuseUnknown();
        body.faults().throwIfAny();
        return toWire(RateComparison.of(counts, factor, worstShare));
    }

    private static Optional<Count> count(Fields entry, List<Optional<String>> ids) {
        Optional<String> id = entry.required("id", Figures.id(entry));
        ids.add(id);
        OptionalInt events = entry.integer("events", 0, EVENTS_AT_MOST);
        entry.required("events", Optional.of(events));
        OptionalDouble exposure = Figures.requiredNumber(entry, "exposure", 0, Figures.LARGEST);
        if (events.orElse(0) > 0 && exposure.isPresent() && exposure.getAsDouble() == 0) {
            entry.fault("exposure",
                    "Events with exposure 0 are a missing meter, not an infinite rate. Send the exposure in which they came, or leave the "
                            + "unit out.");
        }
        return entry.build(() -> new Count(id.orElseThrow(), events.getAsInt(), exposure.getAsDouble()));
    }

    private static ObjectNode toWire(RateComparison comparison) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        comparison.prior().prior().ifPresent(prior -> node.putObject("prior").put("shape", prior.shape()).put("rate", prior.rate()));
        comparison.prior().absent().ifPresent(why -> node.put("priorAbsent", why));
        ArrayNode units = node.putArray("units");
        for (RateComparison.Unit unit : comparison.units()) {
            unit(units.addObject().put("id", unit.id()), unit);
        }
        return node;
    }

    private static void unit(ObjectNode node, RateComparison.Unit unit) {
        unit.crude().ifPresent(crude -> {
            Figures.put(node, "crude", crude.rate());
            Figures.put(node, "crudeLow", crude.low());
            Figures.put(node, "crudeHigh", crude.high());
        });
        Figures.put(node, "posteriorMean", unit.posteriorMean());
        Figures.put(node, "low", unit.low());
        Figures.put(node, "high", unit.high());
        Figures.put(node, "probabilityAbove", unit.probabilityAbove());
        Figures.put(node, "probabilityWorst", unit.probabilityWorst());
        Figures.put(node, "pValue", unit.pValue());
        Figures.put(node, "qValue", unit.qValue());
        if (unit.crude().isEmpty()) {
            node.put("undefined", "no exposure: no rate of its own and no p-value");
        }
    }
}
