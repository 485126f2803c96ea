package comebackledger.openapi;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.briefing.ReadingSeries;
import comebackledger.openapi.calculation.ReadingTrendMapping;
import java.util.List;

/** Series of readings to the wire. */
public final class ReadingsMapping {
    private static final String CROSSING = "crossing";

    private ReadingsMapping() {}

    /** Each series with the number of its points. */
    public static ObjectNode list(List<ReadingSeries> all) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        ArrayNode items = node.putArray("items");
        all.forEach(series -> items.addObject().put("series", series.series()).put("points", series.points().size()));
        return node;
    }

    /** One series; distances are life totals in km, so that a crossing is one too where the trend runs over distance. */
    public static ObjectNode toWire(ReadingSeries series) {
        ObjectNode node = JsonNodeFactory.instance.objectNode().put("series", series.series());
        ArrayNode points = node.putArray("points");
        for (ReadingSeries.Point point : series.points()) {
            ObjectNode item = points.addObject().put("at", point.at().toString());
            point.km().ifPresent(km -> item.put("km", km));
            item.put("value", point.value()).put("visit", point.visit()).put("stage", point.stage().word())
                    .put("counts", point.counts());
        }
        if (series.low().isPresent() || series.high().isPresent()) {
            ObjectNode limits = node.putObject("limits");
            series.low().ifPresent(low -> limits.put("low", low));
            series.high().ifPresent(high -> limits.put("high", high));
        }
        ObjectNode trend = ReadingTrendMapping.toWire(series.trend(), series.low(), series.high());
        node.set("trend", trend);
        JsonNode crossing = trend.get(CROSSING);
        if (crossing != null) {
            node.set(CROSSING, crossing.deepCopy());
        }
        node.put("axis", series.axis().word());
        series.origin().ifPresent(origin -> node.put("origin", origin.toString()));
        ArrayNode repairs = node.putArray("repairs");
        series.repairs().forEach(repair -> repairs.addObject().put("at", repair.at().toString()).put("visit", repair.visit())
                .put("place", repair.place()).put("action", repair.action()));
        return node;
    }
}
