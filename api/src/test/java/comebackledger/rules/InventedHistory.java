package comebackledger.rules;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Visits of one invented unit: several systems, missing, wrong and replaced meters, codes that come and go, lamps, reports, long stays. */
final class InventedHistory {
    private static final String[] MODULES = {"engine", "transmission", "cluster", "brakes"};
    private static final String[] PLACES = {"network.can-1.terminator-b", "network.can-1.brakes", "network.can-1.cluster", "network.can-1",
            "network.can-2.body",
            "charge-air.core", "charge-air.boot", "charge-air", "door.left"};

    private final Random random;
    private final Instant first;
    private final Duration between;

    /** @param between two visits on average */
    InventedHistory(long seed, Instant first, Duration between) {
        this.random = new Random(seed);
        this.first = first;
        this.between = between;
    }

    private boolean oneIn(int n) {
        return random.nextInt(n) == 0;
    }

    private <T> T any(T[] of) {
        return of[random.nextInt(of.length)];
    }

    /** The visit of that number; asked again, another one at nearly the same time. */
    String visit(int index) {
        Instant arrived = first.plus(between.multipliedBy(index)).plusSeconds(random.nextInt((int) between.toSeconds()));
        List<String> members = new ArrayList<>();
        Instant released = arrived.plusSeconds(600L * (1 + random.nextInt(oneIn(8) ? 1500 : 100)));
        members.add(oneIn(14) || released.isAfter(Yard.NOW) ? "unreleased" : "'releasedAt': '" + released + "'");
        if (!oneIn(4)) {
            members.add(meters(index));
        }
        if (oneIn(3)) {
            members.add(codes());
        }
        if (oneIn(9)) {
            members.add("'codesCleared': true");
        }
        if (oneIn(3)) {
            members.add(Yard.checks(Stream.generate(this::check).limit(1 + random.nextInt(2)).toArray(String[]::new)));
        }
        if (oneIn(3)) {
            members.add(Yard.air(Stream.generate(this::airTest).limit(1 + random.nextInt(2)).toArray(String[]::new)));
        }
        if (oneIn(3)) {
            members.add("'repairs': [" + Stream.generate(() -> Yard.repair(any(PLACES), !oneIn(4))).limit(1 + random.nextInt(2))
                    .collect(Collectors.joining(", ")) + "]");
        }
        if (oneIn(5)) {
            members.add("'" + (oneIn(2) ? "lamps" : "lampsAtRelease") + "': {'redStop': " + oneIn(6) + ", 'amberWarning': " + oneIn(2) + "}");
        }
        if (oneIn(12)) {
            members.add("'outOfService': {'declared': " + oneIn(2) + ", 'requiredRepairsCompleted': " + oneIn(2) + "}");
        }
        if (oneIn(10)) {
            members.add("'driverReport': {'defects': [" + (oneIn(2) ? "'horn'" : "") + "]" + (oneIn(2) ? ", 'certification': 'repaired'" : "") + "}");
        }
        return Yard.visit(arrived.toString(), members.toArray(String[]::new));
    }

    private String meters(int index) {
        double km = oneIn(15) ? random.nextInt(500_000) : 100_000 + index * 900.0 + random.nextInt(400);
        double hours = oneIn(15) ? random.nextInt(9000) : 4000 + index * 20.0 + random.nextInt(15);
        List<String> members = new ArrayList<>();
        if (!oneIn(6)) {
            members.add(String.format(Locale.ROOT, "'odometer': {'value': %.1f, 'unit': 'km'}", km));
        }
        if (!oneIn(3)) {
            members.add(String.format(Locale.ROOT, "'engineHours': {'value': %.1f, 'unit': 'h'}", hours));
        }
        if (oneIn(25)) {
            members.add("'odometerReplaced': true"
                    + (oneIn(2) ? String.format(Locale.ROOT, ", 'previousOdometer': {'value': %.1f, 'unit': 'km'}", km) : ""));
        }
        return "'meters': {" + String.join(", ", members) + "}";
    }

    private String codes() {
        List<String> codes = new ArrayList<>();
        for (int i = random.nextInt(3); i >= 0; i--) {
            String status = any(new String[]{"active", "pending", "stored", "stored", "permanent"});
            String more = (oneIn(2) ? ", 'occurrences': " + random.nextInt(6) : "") + (oneIn(9) ? ", 'setDuringService': true" : "")
                    + (oneIn(8) ? ", 'stage': 'as-left'" : "");
            codes.add(oneIn(3)
                    ? Yard.code("P0299", "engine", status, "'occurrences': " + random.nextInt(6))
                    : "{'code': '" + any(new String[]{"U0121", "U0101", "U0100", "U0155"}) + "', 'reportedBy': '" + any(MODULES) + "', 'status': '"
                            + status
                            + "'" + more + "}");
        }
        return Yard.codes(codes.toArray(String[]::new));
    }

    private String stage() {
        return oneIn(3) ? "as-left" : "as-found";
    }

    private String check() {
        if (oneIn(12)) {
            return "{'network': 'can-1', 'stage': '" + stage() + "', 'supplyVoltage': {'value': " + (oneIn(2) ? 9.5 : 12.6) + ", 'unit': 'V'}}";
        }
        return oneIn(2)
                ? Yard.call(stage(), oneIn(2) ? new String[0] : new String[]{any(MODULES)})
                : Yard.read(stage(), oneIn(3) ? 120.4 : 60 + random.nextInt(20) / 10.0);
    }

    private String airTest() {
        return oneIn(2)
                ? Yard.smoke(stage(), oneIn(2) ? new String[0] : new String[]{oneIn(2) ? "core" : "boot"})
                : Yard.flow(stage(), oneIn(3) ? 1500 : 20 + random.nextInt(100));
    }
}
