package comebackledger.api.demo;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;

/** One invented unit and its visits, as an import takes them. */
final class DemoUnit {
    static final String NETWORK = "j1939-1";
    private static final double KM_PER_HOUR = 55;
    private static final double FIRST_ODOMETER_KM = 180_000;

    private final String id;
    private final Duty duty;
    private final SplittableRandom random;
    private final Instant from;
    private final double kmPerDay;
    private final List<ObjectNode> lines = new ArrayList<>();
    private int visits;

    /** How a group of units is used. */
    enum Duty {
        LINEHAUL("linehaul", "tractor", 620), REGIONAL("regional", "box", 310), VOCATIONAL("vocational", "tipper", 120);

        private final String group;
        private final String body;
        private final double kmPerDay;

        Duty(String group, String body, double kmPerDay) {
            this.group = group;
            this.body = body;
            this.kmPerDay = kmPerDay;
        }
    }

    DemoUnit(String id, Duty duty, Instant from, SplittableRandom random) {
        this.id = id;
        this.duty = duty;
        this.random = random;
        this.from = from;
        this.kmPerDay = duty.kmPerDay * (0.85 + 0.3 * random.nextDouble());
        lines.add(line("unit", unit()));
    }

    List<ObjectNode> lines() {
        return List.copyOf(lines);
    }

    SplittableRandom random() {
        return random;
    }

    private static ObjectNode object() {
        return JsonNodeFactory.instance.objectNode();
    }

    private static ObjectNode line(String kind, ObjectNode content) {
        ObjectNode line = object();
        line.set(kind, content);
        return line;
    }

    private ObjectNode unit() {
        ObjectNode unit = object().put("id", id).put("group", duty.group).put("inServiceAt", from.minus(500, ChronoUnit.DAYS).toString());
        unit.putObject("tags").put("body", duty.body).put("origin", "invented");
        ObjectNode build = unit.putObject("build").put("supplyVolts", 12);
        ObjectNode network = build.putArray("networks").addObject().put("name", NETWORK).put("safety", true).put("trunkMetres", 18)
                .put("wireOhmPerMetre", 0.021);
        network.putArray("terminators").add(object().put("name", "terminator-a").put("atMetres", 0).put("ohm", 120))
                .add(object().put("name", "terminator-b").put("atMetres", 18).put("ohm", 120));
        network.putObject("connector").put("atMetres", 8).put("stubMetres", 0.5).put("high", "C").put("low", "D");
        ArrayNode nodes = network.putArray("nodes");
        nodes.addObject().put("module", "engine").put("address", 0).put("atMetres", 1).put("safety", true);
        nodes.addObject().put("module", "transmission").put("address", 3).put("atMetres", 4);
        nodes.addObject().put("module", "dash").put("address", 23).put("atMetres", 9);
        nodes.addObject().put("module", "brakes").put("address", 11).put("atMetres", 15.5).put("safety", true);
        ObjectNode air = build.putObject("chargeAir");
        air.set("ratedBoost", quantity(30, "psi"));
        air.set("maxTestPressure", quantity(20, "psi"));
        air.putArray("spots").add("cooler-inlet-boot").add("cooler-core").add("cooler-outlet-boot");
        ObjectNode engine = build.putObject("engine").put("ratedSpeedRpm", 2400).put("volumetricEfficiency", 0.9).put("strokes", 4);
        engine.set("displacement", quantity(6.7, "L"));
        return unit;
    }

    static ObjectNode quantity(double value, String unit) {
        return object().put("value", Math.round(value * 10) / 10.0).put("unit", unit);
    }

    /** A visit of some hours in the given day of the two years. */
    Visit visit(double day) {
        visits++;
        ObjectNode visit = object().put("unit", id).put("id", String.format(Locale.ROOT, "%s-%02d", id, visits));
        Instant arrivedAt = from.plusSeconds(Math.round(day * 86_400)).truncatedTo(ChronoUnit.MINUTES);
        visit.put("arrivedAt", arrivedAt.toString()).put("releasedAt", arrivedAt.plus(5, ChronoUnit.HOURS).toString());
        visit.put("shop", random.nextBoolean() ? "yard-1" : "yard-2").put("note", "invented");
        ObjectNode meters = visit.putObject("meters");
        meters.set("odometer", quantity(Math.rint(FIRST_ODOMETER_KM + day * kmPerDay), "km"));
        meters.set("engineHours", quantity(Math.rint((FIRST_ODOMETER_KM + day * kmPerDay) / KM_PER_HOUR), "h"));
        lines.add(line("visit", visit));
        return new Visit(visit);
    }

    /** The evidence of one visit, added piece by piece. */
    final class Visit {
        private final ObjectNode visit;

        private Visit(ObjectNode visit) {
            this.visit = visit;
        }

        Visit complaint(String words) {
            visit.put("complaint", words);
            return this;
        }

        Visit code(String code, String reportedBy) {
            visit.withArray("codes").addObject().put("code", code).put("network", NETWORK).put("reportedBy", reportedBy).put("status", "active");
            return this;
        }

        /** @param silent the modules that stay silent in the roll call */
        Visit busCheck(String stage, double highLowOhm, String... silent) {
            ObjectNode check = visit.withArray("busChecks").addObject().put("network", NETWORK).put("stage", stage).put("power", "off");
            check.set("highLow", quantity(highLowOhm + 0.4 * (random.nextDouble() - 0.5), "ohm"));
            ObjectNode rollCall = check.putObject("rollCall");
            ArrayNode answered = rollCall.putArray("answered");
            for (String module : List.of("engine", "transmission", "dash", "brakes")) {
                if (!List.of(silent).contains(module)) {
                    answered.add(module);
                }
            }
            ArrayNode quiet = rollCall.putArray("silent");
            List.of(silent).forEach(quiet::add);
            return this;
        }

        Visit heldFlow(String stage, double litresPerMinute, String... leaksAt) {
            ObjectNode test = visit.withArray("chargeAirTests").addObject().put("stage", stage).put("method", "held-flow");
            test.set("testPressure", quantity(15, "psi"));
            test.set("flow", quantity(litresPerMinute, "L/min"));
            if (leaksAt.length > 0) {
                ArrayNode leaks = test.putArray("leaksAt");
                List.of(leaksAt).forEach(leaks::add);
            }
            return this;
        }

        Visit repaired(String place, String action, String cause) {
            visit.withArray("repairs").addObject().put("place", place).put("cause", cause).put("action", action).put("claimsFixed", true);
            return this;
        }

        Visit lampsAtRelease(boolean redStop, boolean amberWarning) {
            visit.putObject("lampsAtRelease").put("redStop", redStop).put("amberWarning", amberWarning);
            return this;
        }

        Visit defectReported(String defect) {
            visit.putObject("driverReport").putArray("defects").add(defect);
            return this;
        }

        Visit stillInShop() {
            visit.remove("releasedAt");
            return this;
        }
    }
}
