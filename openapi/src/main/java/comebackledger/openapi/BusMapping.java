package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.bus.BusVerdict;
import comebackledger.bus.Predicted;
import java.util.Locale;
import java.util.Optional;

/** What a bus check says, to the wire. */
public final class BusMapping {
    private static final String OPEN = "open";

    private BusMapping() {}

    /** @param system the network's place, such as {@code network.j1939-1}, which parts are told under */
    public static ObjectNode toWire(BusVerdict verdict, String system) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("verdict", verdict.verdict().word());
        verdict.terminatorsSeen().ifPresent(seen -> node.put("terminatorsSeen", seen));
        BusVerdict.Expected expected = verdict.expectedHighLowOhm();
        ObjectNode range = node.putObject("expectedHighLowOhm");
        ohm(range, "low", expected.low());
        ohm(range, "nominal", expected.nominal());
        ohm(range, "high", expected.high());
        range.put("source", expected.source());
        verdict.equivalents().ifPresent(equivalents -> {
            ObjectNode item = node.putObject("equivalents");
            equivalents.shuntOhm().ifPresent(ohm -> item.put("shuntOhm", ohm));
            equivalents.seriesInTrunkOhm().ifPresent(ohm -> item.put("seriesInTrunkOhm", ohm));
            equivalents.seriesAtConnectorOhm().ifPresent(ohm -> item.put("seriesAtConnectorOhm", ohm));
        });
        ArrayNode suspects = node.putArray("suspects");
        verdict.suspects().forEach(suspect -> suspects.add(suspect(suspect, system)));
        ArrayNode next = node.putArray("nextTests");
        verdict.nextTests().forEach(test -> next.add(nextTest(test, system)));
        node.set("cautions", TrailMapping.strings(verdict.cautions()));
        return node;
    }

    static ObjectNode suspect(BusVerdict.Suspect suspect, String system) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("fault", suspect.fault().word());
        place(node, suspect.part(), system);
        suspect.line().ifPresent(line -> node.put("line", line.name().toLowerCase(Locale.ROOT)));
        if (!suspect.between().isEmpty()) {
            node.set("between", TrailMapping.strings(suspect.between()));
        }
        suspect.ohm().ifPresent(ohm -> ohm(node, "ohm", ohm));
        suspect.atMetres().ifPresent(metres -> node.put("atMetres", metres));
        node.put("probability", suspect.probability());
        suspect.predicted().ifPresent(predicted -> node.set("predicted", predicted(predicted)));
        node.put("why", suspect.why());
        if (!suspect.also().isEmpty()) {
            ArrayNode also = node.putArray("also");
            suspect.also().forEach(second -> place(also.addObject().put("fault", second.fault().word()), second.part(), system));
        }
        return node;
    }

    /** A next test of the closed list. */
    public static ObjectNode nextTest(BusVerdict.NextTest test, String system) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("test", test.test().word());
        place(node, test.at(), system);
        node.put("minutes", test.minutes()).put("gainBits", test.gainBits()).put("why", test.why());
        node.set("cautions", TrailMapping.strings(test.cautions()));
        return node;
    }

    private static void place(ObjectNode node, Optional<String> part, String system) {
        part.ifPresent(name -> node.put("place", system + "." + name));
    }

    /** What a meter would read. */
    public static ObjectNode predicted(Predicted predicted) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        ohm(node, "highLowOhm", predicted.highLowOhm());
        ohm(node, "highGroundOhm", predicted.highGroundOhm());
        ohm(node, "lowGroundOhm", predicted.lowGroundOhm());
        ohm(node, "highSupplyOhm", predicted.highSupplyOhm());
        ohm(node, "lowSupplyOhm", predicted.lowSupplyOhm());
        predicted.highVolt().ifPresent(volt -> node.put("highVolt", volt));
        predicted.lowVolt().ifPresent(volt -> node.put("lowVolt", volt));
        return node;
    }

    private static void ohm(ObjectNode node, String name, double ohm) {
        if (Predicted.isOpen(ohm)) {
            node.put(name, OPEN);
        } else {
            node.put(name, ohm);
        }
    }
}
