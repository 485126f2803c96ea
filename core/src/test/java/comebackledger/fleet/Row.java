package comebackledger.fleet;

import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitSummary.Mended;
import comebackledger.trail.UnitSummary.Metered;
import comebackledger.trail.UnitSummary.Opened;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;

/** One unit's row, told in days since the first of January 2025. */
final class Row {
    static final Instant START = Instant.parse("2025-01-01T00:00:00Z");
    static final String SYSTEM = "network.j1939-1";

    private final String unit;
    private final TreeMap<String, String> tags = new TreeMap<>();
    private final List<Metered> visits = new ArrayList<>();
    private final List<Opened> episodes = new ArrayList<>();
    private final List<Mended> repairs = new ArrayList<>();
    private Optional<String> group = Optional.empty();
    private Optional<Instant> inService = Optional.empty();
    private Optional<Instant> first = Optional.empty();
    private int piece;

    Row(String unit) {
        this.unit = unit;
    }

    static Instant day(double day) {
        return START.plusMillis(Math.round(day * 86_400_000));
    }

    static FleetQuestion at(double day) {
        return new FleetQuestion(Optional.empty(), Optional.empty(), day(day));
    }

    Row group(String name) {
        group = Optional.of(name);
        return this;
    }

    Row tag(String name, String value) {
        tags.put(name, value);
        return this;
    }

    Row inService(double day) {
        inService = Optional.of(day(day));
        return this;
    }

    Row visit(double day) {
        first = first.or(() -> Optional.of(day(day)));
        return this;
    }

    Row visit(double day, double km) {
        visits.add(new Metered(day(day), OptionalDouble.of(km), piece, OptionalDouble.empty(), 0));
        return visit(day);
    }

    /** Its odometer is replaced, and what the old one showed last is not noted. */
    Row newMeter() {
        piece++;
        return this;
    }

    Row fresh(double day) {
        return episode(day, SYSTEM + ".brakes", false, false);
    }

    Row comeback(double day) {
        return episode(day, SYSTEM + ".brakes", false, true);
    }

    Row noFaultFound(double day) {
        return episode(day, SYSTEM + ".brakes", true, false);
    }

    Row fresh(double day, String system) {
        return episode(day, system, false, false);
    }

    private Row episode(double day, String place, boolean noFaultFound, boolean comeback) {
        String system = place.equals("charge-air") ? place : SYSTEM;
        episodes.add(
                new Opened(system, place, "V", day(day), Optional.of(day(day)), !noFaultFound, noFaultFound, comeback, false, OptionalDouble.empty(),
                        OptionalDouble.empty()));
        return visit(day);
    }

    /** @param returned empty while it holds; @param preventive the next repair without an episode */
    Row repair(double day, String part, String action, Optional<String> cause, OptionalDouble returned, OptionalDouble preventive) {
        repairs.add(new Mended(SYSTEM, SYSTEM + "." + part, "V", day(day), action, cause, true, OptionalDouble.empty(), OptionalDouble.empty(),
                returned.stream().mapToObj(Row::day).findFirst(), OptionalDouble.empty(), OptionalDouble.empty(),
                preventive.stream().mapToObj(Row::day).findFirst(), OptionalDouble.empty(), OptionalDouble.empty()));
        return visit(day);
    }

    Row held(double day, String action) {
        return repair(day, "brakes", action, Optional.empty(), OptionalDouble.empty(), OptionalDouble.empty());
    }

    Row returned(double day, String action, double returned) {
        return repair(day, "brakes", action, Optional.empty(), OptionalDouble.of(returned), OptionalDouble.empty());
    }

    UnitSummary row() {
        return new UnitSummary(unit, group, tags, inService, Optional.empty(), first, first, visits, episodes, repairs);
    }

    static FleetRows rows(Row... rows) {
        return use -> List.of(rows).forEach(row -> use.accept(row.row()));
    }
}
