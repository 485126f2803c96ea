package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.ledger.Standing;
import comebackledger.trail.Episode;
import comebackledger.trail.Facts;
import comebackledger.trail.Flag;
import comebackledger.trail.LastVisit;
import comebackledger.trail.Trail;
import comebackledger.trail.UnitView;
import java.util.List;

/** Trails, flags and standing to the wire. */
public final class TrailMapping {
    private static final List<String> LAMPS = List.of("redStop", "amberWarning", "malfunction", "protect");

    private TrailMapping() {}

    public static ObjectNode standing(Standing standing) {
        UnitView view = standing.view();
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("unit", standing.unit().id()).put("asOf", standing.asOf().toString());
        node.set("trails", trails(view));
        node.set("flags", flags(view.flags()));
        ObjectNode lamps = node.putObject("lamps");
        Facts facts = Facts.of(view.state());
        LAMPS.forEach(lamp -> facts.lamp(lamp).ifPresent(on -> lamps.put(lamp, on)));
        view.state().lastVisit().ifPresent(last -> lastVisit(node.putObject("lastVisit"), last));
        ObjectNode meters = node.putObject("meters");
        view.state().odometer().reversed().stream().filter(reading -> reading.shown().isPresent()).findFirst()
                .ifPresent(reading -> meters.putObject("odometer").put("value", reading.shown().getAsDouble()).put("unit", "km").put("at",
                        reading.at().toString()).put("visit", reading.visit()));
        view.state().engineHours().reversed().stream().filter(reading -> reading.shown().isPresent()).findFirst()
                .ifPresent(reading -> meters.putObject("engineHours").put("value", reading.shown().getAsDouble()).put("unit", "h").put("at",
                        reading.at().toString()).put("visit", reading.visit()));
        return node;
    }

    private static void lastVisit(ObjectNode node, LastVisit last) {
        node.put("visit", last.visit()).put("arrivedAt", last.arrivedAt().toString());
        last.releasedAt().ifPresent(at -> node.put("releasedAt", at.toString()));
    }

    public static ArrayNode trails(UnitView view) {
        ArrayNode items = JsonNodeFactory.instance.arrayNode();
        view.trails().forEach(trail -> items.add(trail(trail)));
        return items;
    }

    public static ObjectNode trail(Trail trail) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("place", trail.place().toString()).put("system", trail.place().system()).put("state", trail.state().word());
        ArrayNode episodes = node.putArray("episodes");
        trail.episodes().forEach(episode -> episodes.add(episode(episode)));
        ArrayNode repairs = node.putArray("repairs");
        for (Trail.Repaired repair : trail.repairs()) {
            ObjectNode item = repairs.addObject().put("visit", repair.visit()).put("at", repair.at().toString()).put("action", repair.action());
            repair.cause().ifPresent(cause -> item.put("cause", cause));
            item.put("claimsFixed", repair.claimsFixed());
        }
        ArrayNode proofs = node.putArray("proofs");
        for (Trail.Proof proof : trail.proofs()) {
            ObjectNode item = proofs.addObject().put("visit", proof.visit()).put("at", proof.at().toString());
            item.set("evidence", strings(proof.evidence()));
        }
        node.set("flags", flags(trail.flags()));
        return node;
    }

    private static ObjectNode episode(Episode episode) {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("openedAt", episode.openedAt().toString()).put("openedBy", episode.openedBy());
        episode.closedAt().ifPresent(at -> node.put("closedAt", at.toString()));
        episode.closedBy().ifPresent(visit -> node.put("closedBy", visit));
        node.put("kind", episode.noFaultFound() ? "no-fault-found" : episode.confirmed() ? "confirmed" : "suspected");
        node.put("comeback", episode.comeback()).put("moving", episode.moving());
        episode.sinceRepair().ifPresent(since -> {
            ObjectNode item = node.putObject("sinceRepair").put("days", since.days());
            since.km().ifPresent(km -> item.put("km", km));
            since.engineHours().ifPresent(hours -> item.put("engineHours", hours));
        });
        episode.after().ifPresent(visit -> node.put("after", visit));
        if (!episode.accusedPlaces().isEmpty()) {
            node.set("accusedPlaces", strings(episode.accusedPlaces()));
        }
        if (!episode.failedAtBench().isEmpty()) {
            node.set("failedAtBench", strings(episode.failedAtBench()));
        }
        return node;
    }

    static ArrayNode flags(List<Flag> flags) {
        ArrayNode items = JsonNodeFactory.instance.arrayNode();
        for (Flag flag : flags) {
            ObjectNode item = items.addObject().put("flag", flag.kind().word()).put("place", flag.place()).put("since", flag.since().toString());
            flag.expiresAt().ifPresent(at -> item.put("expiresAt", at.toString()));
            item.set("grounds", strings(flag.grounds()));
            item.put("detail", flag.detail());
        }
        return items;
    }

    static ArrayNode strings(List<String> values) {
        ArrayNode items = JsonNodeFactory.instance.arrayNode();
        values.forEach(items::add);
        return items;
    }
}
