package comebackledger.api.page;

import com.samskivert.mustache.Mustache;
import com.samskivert.mustache.Template;
import comebackledger.api.picture.ReadingPicture;
import comebackledger.api.picture.Shown;
import comebackledger.briefing.Briefing;
import comebackledger.bus.BusVerdict;
import comebackledger.trail.Flag;
import comebackledger.trail.Trail;
import comebackledger.trail.Words;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;

/** The briefing as one printable sheet. */
public final class BriefingPage {
    private static final int TESTS = 4;
    private static final int SUSPECTS = 4;
    private static final int FAULTS = 3;
    private static final int PICTURES = 2;
    private static final int REPAIRS = 3;
    private static final int VISITS = 2;
    private static final int UNKNOWN = 4;
    private static final int FREE_TEXT = 56;
    /** Suspects less likely than this are left to the JSON. */
    private static final double LEAST = 0.01;

    private static final Template TEMPLATE = template();

    private final Briefing briefing;
    private final Shown shown;

    private BriefingPage(Briefing briefing, Shown shown) {
        this.briefing = briefing;
        this.shown = shown;
    }

    private static Template template() {
        try (InputStream in = Objects.requireNonNull(BriefingPage.class.getResourceAsStream("briefing.mustache"), "briefing.mustache")) {
            return Mustache.compiler().escapeHTML(true).strictSections(true).compile(new InputStreamReader(in, StandardCharsets.UTF_8));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    public static String of(Briefing briefing, Shown shown) {
        return TEMPLATE.execute(new BriefingPage(briefing, shown).content());
    }

    private Map<String, Object> content() {
        Map<String, Object> page = new LinkedHashMap<>();
        page.put("unit", briefing.unit());
        page.put("asOf", PageWords.minute(briefing.asOf()));
        page.put("summary", briefing.summary());
        tests(page);
        put(page, "suspects", suspects());
        put(page, "faults", briefing.openTrails().stream().limit(FAULTS).map(this::fault).toList());
        put(page, "pictures", pictures());
        put(page, "repairs", briefing.repairsTried().stream().limit(REPAIRS).map(this::repair).toList());
        put(page, "visits", briefing.recentVisits().stream().limit(VISITS).map(this::visit).toList());
        put(page, "unknown", briefing.notKnown().stream().limit(UNKNOWN).map(text -> Map.of("text", text)).toList());
        return page;
    }

    /** A list, and whether there is anything in it. */
    private static void put(Map<String, Object> page, String name, List<? extends Map<String, ?>> rows) {
        page.put(name, rows);
        page.put("any-" + name, !rows.isEmpty());
    }

    /** Cautions are told once, each test naming its own by number. */
    private void tests(Map<String, Object> page) {
        List<Briefing.NextTest> first = briefing.firstTests(TESTS);
        Set<String> cautions = new LinkedHashSet<>();
        first.forEach(test -> cautions.addAll(test.cautions()));
        List<String> numbered = List.copyOf(cautions);
        List<Map<String, Object>> rows = new ArrayList<>();
        for (int i = 0; i < first.size(); i++) {
            Briefing.NextTest test = first.get(i);
            List<String> numbers = test.cautions().stream().map(caution -> String.valueOf(numbered.indexOf(caution) + 1)).toList();
            rows.add(Map.of("number", i + 1, "test", PageWords.test(test.test()), "place", test.place().map(PageWords::place).orElse(""), "minutes",
                    Math.round(test.minutes()), "bits", PageWords.bits(test.gainBits()), "why", test.why(), "cautions", String.join(", ", numbers)));
        }
        put(page, "tests", rows);
        put(page, "cautions", numbered.stream().map(text -> Map.of("text", text)).toList());
    }

    private List<Map<String, Object>> suspects() {
        return likeliest().stream().map(suspect -> Map.<String, Object>of("odds", PageWords.percent(suspect.probability()), "width",
                String.valueOf(Math.round(60 * suspect.probability())), "fault", PageWords.of(suspect.fault()), "place",
                where(suspect), "why", suspect.why(), "visit",
                suspect.visit()))
                .toList();
    }

    /** A few of each system, so that a second open fault is on the sheet. */
    private List<Briefing.Suspect> likeliest() {
        List<String> systems = briefing.suspects().stream().map(Briefing.Suspect::system).distinct().toList();
        int each = Math.max(1, SUSPECTS / Math.max(1, systems.size()));
        return systems.stream().flatMap(system -> briefing.suspects().stream().filter(suspect -> suspect.system().equals(system))
                .filter(suspect -> suspect.probability() >= LEAST).limit(each)).limit(SUSPECTS).toList();
    }

    private static String where(Briefing.Suspect suspect) {
        String place = suspect.place().map(PageWords::place).orElse(PageWords.place(suspect.system()));
        String between = suspect.onNetwork().map(BusVerdict.Suspect::between).filter(ends -> ends.size() == 2)
                .map(ends -> ", between " + ends.getFirst() + " and " + ends.getLast()).orElse("");
        String line = suspect.onNetwork().flatMap(BusVerdict.Suspect::line).map(one -> ", line " + one.word()).orElse("");
        return place + between + line;
    }

    private Map<String, Object> fault(Trail trail) {
        List<String> flags = trail.flags().stream().map(Flag::detail).toList();
        String opened = trail.openEpisode().map(episode -> PageWords.day(episode.openedAt()) + " (" + episode.openedBy() + ")").orElse("");
        return Map.of("place", PageWords.place(trail.place().toString()), "state", trail.state() == Trail.State.OPEN ? "Confirmed" : "Suspected",
                "opened", opened, "times", trail.episodes().stream().filter(episode -> !episode.noFaultFound()).count(), "flags",
                String.join(" ", flags));
    }

    private List<Map<String, Object>> pictures() {
        List<Map<String, Object>> pictures = new ArrayList<>();
        for (int i = 0; i < Math.min(PICTURES, briefing.pastReadings().size()); i++) {
            var series = briefing.pastReadings().get(i);
            pictures.add(Map.of("name", Shown.name(series.series()), "svg", ReadingPicture.of(series, shown, briefing.unit(), "reading-" + (i + 1))));
        }
        return pictures;
    }

    private Map<String, Object> repair(Briefing.RepairTried repair) {
        return Map.of("day", PageWords.day(repair.at()), "visit", repair.visit(), "place", PageWords.place(repair.place()), "action",
                PageWords.of(repair.action()), "cause", cut(repair.cause().orElse("")), "part", cut(repair.part().orElse("")), "held", held(repair),
                "proven", repair.proven() ? "Yes" : "No");
    }

    private String held(Briefing.RepairTried repair) {
        if (repair.failedAtBench()) {
            return "Not at all: the test after it failed";
        }
        if (repair.held().isEmpty()) {
            return "Nobody claimed it fixed";
        }
        var held = repair.held().get();
        String distance = held.km().isPresent() ? ", " + shown.distance(held.km().getAsDouble()) : "";
        return repair.returnedBy().map(visit -> Words.days(held.days()) + distance + "; back in " + visit)
                .orElse("Still: " + Words.days(held.days()) + distance);
    }

    private Map<String, Object> visit(Briefing.RecentVisit visit) {
        List<String> done = visit.done().stream()
                .map(one -> PageWords.of(one.action()) + " " + one.place() + one.cause().map(cause -> " (" + cause + ")").orElse("")).toList();
        return Map.of("day", PageWords.day(visit.arrivedAt()), "visit", visit.visit(), "meter",
                visit.km().isPresent() ? shown.distance(visit.km().getAsDouble()) : "not read", "complaint", cut(visit.complaint().orElse("")),
                "codes",
                cut(String.join(", ", visit.codes())), "done", cut(String.join("; ", done)), "note", cut(visit.note().orElse("")));
    }

    private static String cut(String text) {
        return PageWords.cut(text, FREE_TEXT);
    }
}
