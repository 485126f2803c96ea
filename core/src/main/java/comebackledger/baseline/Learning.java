package comebackledger.baseline;

import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;

/** Reads the fleet twice: how far units go in a day, then what happened over what they covered. */
final class Learning {
    private final Instant at;
    private final SortedMap<String, List<Usage>> usageByGroup = new TreeMap<>();
    private final List<Usage> usageOfAll = new ArrayList<>();
    private final Map<Wear, List<Row>> rows = new EnumMap<>(Wear.class);
    private final SortedMap<String, Usage> medians = new TreeMap<>();
    private final SortedMap<String, String> strata = new TreeMap<>();
    private Usage median = Usage.UNKNOWN;
    private int units;
    private long visits;

    /** What one unit contributes. */
    private record Row(Optional<String> group, double exposure, SortedMap<String, Integer> fresh, SortedMap<String, Integer> every,
            List<Spell> spells) {
        Returns.History history() {
            return new Returns.History(exposure, fresh.values().stream().mapToInt(Integer::intValue).sum(), spells);
        }
    }

    Learning(Instant at) {
        this.at = at;
        rows.put(Wear.KM, new ArrayList<>());
        rows.put(Wear.DAYS, new ArrayList<>());
    }

    void readUsage(UnitSummary unit) {
        units++;
        visits += unit.meteredVisits();
        Usage own = Usage.own(unit, at);
        if (!own.equals(Usage.UNKNOWN)) {
            usageOfAll.add(own);
            unit.group().ifPresent(group -> usageByGroup.computeIfAbsent(group, _ -> new ArrayList<>()).add(own));
        }
    }

    void settleUsage() {
        median = Usage.median(usageOfAll);
        usageByGroup.forEach((group, usages) -> medians.put(group, Usage.median(usages)));
    }

    void readHistory(UnitSummary unit) {
        Usage peers = unit.group().map(medians::get).map(usage -> usage.or(median)).orElse(median);
        for (Wear measure : Wear.values()) {
            Tale tale = new Tale(unit, at, measure, peers);
            OptionalDouble exposure = tale.exposure();
            if (exposure.isPresent() && exposure.getAsDouble() > 0) {
                rowsOf(measure).add(new Row(unit.group(), exposure.getAsDouble(), tale.fresh(), tale.every(), shared(tale.spells())));
            }
        }
    }

    /** One text a stratum, however many repairs name it. */
    private List<Spell> shared(List<Spell> spells) {
        return spells.stream()
                .map(spell -> new Spell(strata.computeIfAbsent(spell.stratum(), name -> name), spell.length(), spell.returned(), spell.standing()))
                .toList();
    }

    private List<Row> rowsOf(Wear measure) {
        return rows.getOrDefault(measure, List.of());
    }

    Baseline baseline() {
        return new Baseline(0, at, units, visits, median, medians, lessons(Wear.KM), lessons(Wear.DAYS));
    }

    private Lessons lessons(Wear measure) {
        List<Row> read = rowsOf(measure);
        List<Returns.History> histories = read.stream().map(Row::history).toList();
        Returns returns = Returns.learn(histories, measure);
        SortedMap<String, PeerRates> fresh = rates(measure, read, Row::fresh);
        fresh.put(Lessons.ALL, allFresh(measure, read, returns, fresh));
        return new Lessons(fresh, rates(measure, read, Row::every), returns);
    }

    /** All fresh faults together, those among the returns included. */
    private static PeerRates allFresh(Wear measure, List<Row> rows, Returns returns, SortedMap<String, PeerRates> plain) {
        PeerRates before = plain.getOrDefault(Lessons.ALL, new PeerRates(PeerRate.fleet(new Counts(), measure), new TreeMap<>()));
        Tally tally = new Tally();
        for (Row row : rows) {
            tally.add(row, Math.rint(returns.posterior(row.history(), before.of(row.group()).prior()).freshEvents()));
        }
        return tally.rates(measure);
    }

    /** One system's events, of the fleet and by group. */
    private static final class Tally {
        private final Counts fleet = new Counts();
        private final SortedMap<String, Counts> groups = new TreeMap<>();

        void add(Row row, double events) {
            fleet.add(events, row.exposure());
            row.group().ifPresent(group -> groups.computeIfAbsent(group, _ -> new Counts()).add(events, row.exposure()));
        }

        PeerRates rates(Wear measure) {
            PeerRate ofFleet = PeerRate.fleet(fleet, measure);
            SortedMap<String, PeerRate> byGroup = new TreeMap<>();
            groups.forEach((group, counts) -> byGroup.put(group, PeerRate.group(counts, ofFleet)));
            return new PeerRates(ofFleet, byGroup);
        }
    }

    private interface Events {
        SortedMap<String, Integer> of(Row row);
    }

    private static SortedMap<String, PeerRates> rates(Wear measure, List<Row> rows, Events events) {
        TreeSet<String> systems = new TreeSet<>();
        systems.add(Lessons.ALL);
        for (Row row : rows) {
            for (String system : events.of(row).keySet()) {
                systems.add(system);
                systems.add(Lessons.kind(system));
            }
        }
        SortedMap<String, PeerRates> rates = new TreeMap<>();
        for (String system : systems) {
            Tally tally = new Tally();
            rows.forEach(row -> tally.add(row, count(events.of(row), system)));
            rates.put(system, tally.rates(measure));
        }
        return rates;
    }

    private static int count(SortedMap<String, Integer> events, String system) {
        int count = 0;
        for (Map.Entry<String, Integer> entry : events.entrySet()) {
            boolean counts = system.equals(Lessons.ALL) || system.equals(entry.getKey()) || system.equals(Lessons.kind(entry.getKey()));
            count += counts ? entry.getValue() : 0;
        }
        return count;
    }
}
