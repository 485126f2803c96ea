package comebackledger.api;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;

/**
 * An invented fleet of any size as lines of an import, unit by unit. A visit is a service (meters and lamps), a bus check, a charge-air test, codes
 * alone, or a fault found and repaired; one unit in twenty fails four times as often, and a fault that was only cleaned returns more often than one that
 * was replaced. How much of each is common practice, no source.
 */
final class ScaleFleet {
    /** The first visits lie this far back from {@link #UNTIL}. */
    private static final double DAYS = 730;
    static final Instant UNTIL = Instant.parse("2026-03-01T00:00:00Z");
    private static final long SEED = 20_260_301;
    private static final String[] GROUPS = {"linehaul", "regional", "vocational"};
    private static final double[] KM_PER_DAY = {620, 310, 120};
    private static final double KM_PER_HOUR = 55;
    private static final String BUILD = """
            {"supplyVolts":12,"networks":[{"name":"j1939-1","safety":true,"trunkMetres":18,"wireOhmPerMetre":0.021,\
            "terminators":[{"name":"terminator-a","atMetres":0,"ohm":120},{"name":"terminator-b","atMetres":18,"ohm":120}],\
            "connector":{"atMetres":8,"stubMetres":0.5,"high":"C","low":"D"},\
            "nodes":[{"module":"engine","address":0,"atMetres":1,"safety":true},{"module":"transmission","address":3,"atMetres":4},\
            {"module":"dash","address":23,"atMetres":9},{"module":"brakes","address":11,"atMetres":15.5,"safety":true}]}],\
            "chargeAir":{"ratedBoost":{"value":30,"unit":"psi"},"maxTestPressure":{"value":20,"unit":"psi"},\
            "spots":["cooler-inlet-boot","cooler-core","cooler-outlet-boot"]},\
            "engine":{"displacement":{"value":6.7,"unit":"L"},"ratedSpeedRpm":2400,"volumetricEfficiency":0.9,"strokes":4}}""";

    private ScaleFleet() {}

    static String unitId(int unit) {
        return String.format(Locale.ROOT, "T-%06d", unit);
    }

    /** Writes the fleet to a file. @return how many lines */
    static long write(Path file, int units, int visits) throws IOException {
        long lines = 0;
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file), 1 << 20)) {
            for (int unit = 0; unit < units; unit++) {
                for (String line : lines(unit, visits)) {
                    out.write(line.getBytes(StandardCharsets.UTF_8));
                    out.write('\n');
                    lines++;
                }
            }
        }
        return lines;
    }

    /** One unit's line and those of its visits, in order. */
    static List<String> lines(int unit, int visits) {
        return new Life(unit, visits).lines();
    }

    private static final class Life {
        private final SplittableRandom random;
        private final String id;
        private final int group;
        private final boolean bad;
        private final int visits;
        private final List<String> lines = new ArrayList<>();
        private final double kmPerDay;
        private final double firstKm;

        Life(int unit, int visits) {
            random = new SplittableRandom(SEED + unit * 0x9E3779B97F4A7C15L);
            id = unitId(unit);
            group = unit % GROUPS.length;
            bad = random.nextInt(20) == 0;
            this.visits = visits;
            kmPerDay = KM_PER_DAY[group] * (0.8 + 0.4 * random.nextDouble());
            firstKm = 50_000 + 300_000 * random.nextDouble();
        }

        List<String> lines() {
            lines.add("{\"unit\":{\"id\":\"" + id + "\",\"group\":\"" + GROUPS[group] + "\",\"inServiceAt\":\""
                    + UNTIL.minus(1000 + random.nextInt(1000), ChronoUnit.DAYS) + "\",\"tags\":{\"body\":\""
                    + new String[]{"tractor", "box", "tipper"}[group] + "\",\"supplier\":\"" + (char) ('a' + random.nextInt(5)) + "\"},\"build\":"
                    + BUILD
                    + "}}");
            double step = DAYS / visits;
            int returning = 0;
            for (int i = 0; i < visits; i++) {
                double day = step * (i + 0.8 * random.nextDouble());
                if (returning > 0 && random.nextDouble() < (returning == 1 ? 0.5 : 0.1) || random.nextDouble() < (bad ? 0.28 : 0.07)) {
                    boolean cleaned = random.nextBoolean();
                    fault(i, day, cleaned);
                    returning = cleaned ? 1 : 2;
                } else {
                    returning = 0;
                    harmless(i, day);
                }
            }
            return lines;
        }

        private void harmless(int i, double day) {
            double what = random.nextDouble();
            if (what < 0.66) {
                visit(i, day, "scheduled service, oil and filters, brakes measured", "");
            } else if (what < 0.83) {
                visit(i, day, "annual check of the network", ",\"busChecks\":[" + check("as-found", 60.2, "") + "]");
            } else if (what < 0.92) {
                visit(i, day, "annual check of the charge air", ",\"chargeAirTests\":[" + heldFlow("as-found", 24 + 10 * random.nextDouble()) + "]");
            } else {
                visit(i, day, "message on the dash, gone again",
                        ",\"codes\":[{\"code\":\"U0121\",\"network\":\"j1939-1\",\"reportedBy\":\"engine\",\"status\":\"active\",\"occurrences\":"
                                + (1 + random.nextInt(9)) + "}]");
            }
        }

        private void fault(int i, double day, boolean cleaned) {
            String action = cleaned ? "cleaned" : "replaced";
            switch (random.nextInt(3)) {
                case 0 -> visit(i, day, "brake lamp on after rain", ",\"busChecks\":[" + check("as-found", 120.6, "") + ","
                        + check("as-left", 60.2, "") + "]" + repair("network.j1939-1.terminator-b", "water in the terminator", action));
                case 1 -> visit(i, day, "brake lamp on", ",\"busChecks\":[" + check("as-found", 60.2, "brakes") + "]"
                        + repair("network.j1939-1.brakes", "loose plug", action));
                default -> visit(i, day, "low power uphill", ",\"chargeAirTests\":[" + heldFlow("as-found", 430 + 60 * random.nextDouble()) + ","
                        + heldFlow("as-left", 26) + "]" + repair("charge-air.cooler-outlet-boot", "loose clamp", action));
            }
        }

        private void visit(int i, double day, String complaint, String evidence) {
            Instant arrived = UNTIL.minusSeconds(Math.round((DAYS - day) * 86_400)).truncatedTo(ChronoUnit.MINUTES);
            double km = firstKm + kmPerDay * day;
            lines.add("{\"visit\":{\"unit\":\"" + id + "\",\"id\":\"WO-" + id + "-" + i + "\",\"arrivedAt\":\"" + arrived + "\",\"releasedAt\":\""
                    + arrived.plus(5, ChronoUnit.HOURS) + "\",\"meters\":{\"odometer\":{\"value\":" + Math.round(km)
                    + ",\"unit\":\"km\"},\"engineHours\":{\"value\":" + Math.round(km / KM_PER_HOUR) + ",\"unit\":\"h\"}},\"complaint\":\""
                    + complaint
                    + "\",\"lampsAtRelease\":{\"redStop\":false,\"amberWarning\":false},\"shop\":\"yard-" + random.nextInt(4) + "\"" + evidence
                    + ",\"note\":\"invented\"}}");
        }

        private String check(String stage, double ohm, String silent) {
            String reading = String.format(Locale.ROOT, "%.1f", ohm + 0.4 * (random.nextDouble() - 0.5));
            String answered = silent.isEmpty() ? "\"engine\",\"transmission\",\"dash\",\"brakes\"" : "\"engine\",\"transmission\",\"dash\"";
            return "{\"network\":\"j1939-1\",\"stage\":\"" + stage + "\",\"power\":\"off\",\"highLow\":{\"value\":" + reading
                    + ",\"unit\":\"ohm\"},\"rollCall\":{\"answered\":[" + answered + "],\"silent\":[" + (silent.isEmpty() ? "" : "\"" + silent + "\"")
                    + "]}}";
        }

        private static String heldFlow(String stage, double litresPerMinute) {
            return "{\"stage\":\"" + stage + "\",\"method\":\"held-flow\",\"testPressure\":{\"value\":15,\"unit\":\"psi\"},\"flow\":{\"value\":"
                    + Math.round(litresPerMinute) + ",\"unit\":\"L/min\"}}";
        }

        private static String repair(String place, String cause, String action) {
            return ",\"repairs\":[{\"place\":\"" + place + "\",\"cause\":\"" + cause + "\",\"action\":\"" + action + "\",\"claimsFixed\":true}]";
        }
    }
}
