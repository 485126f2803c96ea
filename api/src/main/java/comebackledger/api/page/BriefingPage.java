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
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** The briefing as one printable sheet. */
public final class BriefingPage {
    private static final int TESTS = 4;
    private static final int SUSPECTS = 4;
    private static final int FAULTS = 3;
    private static final int PICTURES = 2;
    private static final int REPAIRS = 3;
    private static final int VISITS = 2;
    private static final int UNKNOWN = 4;
    /** Of a unit, in the name of a window or a print. */
    private static final int TITLE = 36;
    private static final int FREE_TEXT = 70;
    private static final int FREE_TEXT_OF_FEW = 160;
    /** Suspects less likely than this are left to the JSON. */
    private static final double LEAST = 0.01;
    /** A suspect that is worth naming as the reason of the first test. */
    private static final double WORTH_NAMING = 0.1;
    private static final int NAMED = 3;
    private static final int LINES_OF_A_ROOMY_SHEET = 42;
    private static final int LETTERS_OF_A_LINE = 100;

    private static final Template TEMPLATE = template();

    private final Briefing briefing;
    private final Shown shown;
    /** Whether there is little to tell, so that it can be printed large. */
    private final boolean roomy;

    private BriefingPage(Briefing briefing, Shown shown) {
        this.briefing = briefing;
        this.shown = shown;
        this.roomy = lines() <= LINES_OF_A_ROOMY_SHEET;
    }

    /** About how many printed lines there are to tell, the pictures apart. */
    private int lines() {
        List<String> rows = new ArrayList<>();
        Set<String> cautions = new LinkedHashSet<>();
        briefing.firstTests(TESTS).forEach(test -> {
            rows.add(test.why() + test.test());
            cautions.addAll(test.cautions());
        });
        rows.addAll(cautions);
        likeliest().forEach(suspect -> rows.add(suspect.fault() + suspect.place().orElse("") + suspect.why()));
        briefing.openTrails().stream().limit(FAULTS)
                .forEach(trail -> rows
                        .add(trail.place().toString().repeat(3) + trail.flags().stream().map(Flag::detail).collect(Collectors.joining())));
        briefing.repairsTried().stream().limit(REPAIRS)
                .forEach(repair -> rows.add(repair.place().repeat(3) + limited(repair.cause()) + limited(repair.part())));
        briefing.recentVisits().stream().limit(VISITS).forEach(visit -> rows.add(visit.visit().repeat(3) + limited(visit.complaint())
                + limited(visit.note()) + limited(Optional.of(visit.done().toString())) + limited(Optional.of(visit.codes().toString()))));
        rows.addAll(briefing.notKnown().stream().limit(UNKNOWN).toList());
        return rows.stream().mapToInt(row -> 1 + row.length() / LETTERS_OF_A_LINE).sum();
    }

    private static String limited(Optional<String> text) {
        return PageWords.cut(text.orElse(""), FREE_TEXT_OF_FEW);
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
        page.put("title", PageWords.cut(briefing.unit(), TITLE));
        page.put("asOf", PageWords.minute(briefing.asOf()));
        page.put("summary", PageWords.told(briefing.summary()));
        tests(page);
        put(page, "suspects", likeliest().stream().map(BriefingPage::suspect).toList());
        put(page, "faults", briefing.openTrails().stream().limit(FAULTS).map(BriefingPage::fault).toList());
        put(page, "pictures", pictures());
        put(page, "repairs", briefing.repairsTried().stream().limit(REPAIRS).map(this::repair).toList());
        put(page, "visits", briefing.recentVisits().stream().limit(VISITS).map(this::visit).toList());
        put(page, "unknown", briefing.notKnown().stream().limit(UNKNOWN).map(text -> Map.of("text", PageWords.told(text))).toList());
        page.put("density", roomy ? "roomy" : "full");
        return page;
    }

    /** A list, and whether there is anything in it. */
    private static void put(Map<String, Object> page, String name, List<? extends Map<String, ?>> rows) {
        page.put(name, rows);
        page.put("any-" + name, !rows.isEmpty());
    }

    /** A text, and whether there is any. */
    private static void put(Map<String, Object> row, String name, String text) {
        row.put(name, text);
        row.put("any-" + name, !text.isBlank());
    }

    /** Cautions are told once, each test naming its own by number; the first test says whom it is after. */
    private void tests(Map<String, Object> page) {
        List<Briefing.NextTest> first = briefing.firstTests(TESTS);
        Set<String> cautions = new LinkedHashSet<>();
        first.forEach(test -> cautions.addAll(test.cautions()));
        List<String> numbered = List.copyOf(cautions);
        List<Map<String, Object>> rows = new ArrayList<>();
        for (int i = 0; i < first.size(); i++) {
            Briefing.NextTest test = first.get(i);
            Map<String, Object> row = new LinkedHashMap<>();
            row.put("number", i + 1);
            row.put("test", PageWords.test(test.test()));
            row.put("place", PageWords.capital(test.place().map(PageWords::place).orElse("place not named")));
            row.put("minutes", Math.round(test.minutes()));
            row.put("why", PageWords.told(test.why()));
            row.put("cautions", test.cautions().stream().map(caution -> numbered.indexOf(caution) + 1).sorted().map(String::valueOf)
                    .collect(Collectors.joining(", ")));
            put(row, "because", i == 0 ? because(test.system()) : "");
            rows.add(row);
        }
        put(page, "tests", rows);
        put(page, "cautions", numbered.stream().map(text -> Map.of("text", text)).toList());
    }

    private String because(String system) {
        String suspects = briefing.suspects().stream().filter(suspect -> suspect.system().equals(system) && suspect.probability() >= WORTH_NAMING)
                .limit(NAMED)
                .map(suspect -> PageWords.fault(suspect.fault()) + " (" + where(suspect) + ") " + PageWords.percent(suspect.probability()))
                .collect(Collectors.joining("; "));
        return suspects.isEmpty() ? "" : "Suspected most: " + suspects + ".";
    }

    private static Map<String, Object> suspect(Briefing.Suspect suspect) {
        return Map.of("odds", PageWords.percent(suspect.probability()), "width", String.valueOf(Math.round(60 * suspect.probability())), "fault",
                PageWords.fault(suspect.fault()), "place", where(suspect), "why", PageWords.told(suspect.why()), "visit", suspect.visit());
    }

    /** A few of each system, so that a second open fault is on the sheet. */
    private List<Briefing.Suspect> likeliest() {
        List<String> systems = briefing.suspects().stream().map(Briefing.Suspect::system).distinct().toList();
        int each = Math.max(1, SUSPECTS / Math.max(1, systems.size()));
        return systems.stream().flatMap(system -> briefing.suspects().stream().filter(suspect -> suspect.system().equals(system))
                .filter(suspect -> suspect.probability() >= LEAST).limit(each)).limit(SUSPECTS).toList();
    }

    private static String where(Briefing.Suspect suspect) {
        // A fault of the trunk says so in its name.
        String place = PageWords.place(suspect.place().filter(_ -> !suspect.fault().startsWith("trunk-")).orElse(suspect.system()));
        String between = suspect.onNetwork().map(BusVerdict.Suspect::between).filter(ends -> ends.size() == 2)
                .map(ends -> ", between " + ends.getFirst() + " and " + ends.getLast()).orElse("");
        String line = suspect.onNetwork().flatMap(BusVerdict.Suspect::line).map(one -> ", line " + one.word()).orElse("");
        return place + between + line;
    }

    private static Map<String, Object> fault(Trail trail) {
        String opened = trail.openEpisode().map(episode -> PageWords.day(episode.openedAt()) + " (" + episode.openedBy() + ")").orElse("");
        long times = trail.episodes().stream().filter(episode -> !episode.noFaultFound()).count();
        return Map.of("place", PageWords.capital(PageWords.place(trail.place().toString())), "state",
                trail.state() == Trail.State.OPEN ? "confirmed by a test" : "suspected, not confirmed", "opened", opened, "times",
                times == 1 ? "First time here." : "Fault number " + times + " at this place.", "flags",
                trail.flags().stream().map(Flag::detail).map(PageWords::told).collect(Collectors.joining(" ")));
    }

    private List<Map<String, Object>> pictures() {
        List<Map<String, Object>> pictures = new ArrayList<>();
        for (int i = 0; i < Math.min(PICTURES, briefing.pastReadings().size()); i++) {
            pictures.add(Map.of("svg", ReadingPicture.of(briefing.pastReadings().get(i), shown, briefing.unit(), "reading-" + (i + 1))));
        }
        return pictures;
    }

    private Map<String, Object> repair(Briefing.RepairTried repair) {
        Map<String, Object> row = new LinkedHashMap<>();
        row.put("day", PageWords.day(repair.at()));
        row.put("visit", repair.visit());
        row.put("place", PageWords.place(repair.place()));
        row.put("action", PageWords.of(repair.action()));
        row.put("held", held(repair));
        row.put("proven", repair.held().isEmpty() ? "" : repair.proven() ? "Proven by a passing test." : "Not proven by any test.");
        put(row, "cause", cut(repair.cause().orElse("")));
        put(row, "part", cut(repair.part().orElse("")));
        return row;
    }

    private String held(Briefing.RepairTried repair) {
        if (repair.failedAtBench()) {
            return "Did not hold: the test after it failed";
        }
        if (repair.held().isEmpty()) {
            return "Nobody claimed it fixed";
        }
        var held = repair.held().get();
        String distance = held.km().isPresent() ? ", " + shown.distance(held.km().getAsDouble()) : "";
        return repair.returnedBy().map(visit -> "Held " + Words.days(held.days()) + distance + "; back in " + visit)
                .orElse("Holding for " + Words.days(held.days()) + distance + " so far");
    }

    private Map<String, Object> visit(Briefing.RecentVisit visit) {
        Map<String, Object> row = new LinkedHashMap<>();
        row.put("day", PageWords.day(visit.arrivedAt()));
        row.put("visit", visit.visit());
        row.put("meter", visit.km().isPresent() ? shown.distance(visit.km().getAsDouble()) : "odometer not read");
        put(row, "complaint", cut(visit.complaint().orElse("")));
        put(row, "codes", cut(String.join(", ", visit.codes())));
        put(row, "done", cut(visit.done().stream().map(one -> one.action() + " " + PageWords.place(one.place())
                + one.cause().map(cause -> " (" + cause + ")").orElse("")).collect(Collectors.joining("; "))));
        put(row, "note", cut(visit.note().orElse("")));
        return row;
    }

    /** What people wrote, cut where it is long, as a sentence. */
    private String cut(String text) {
        return PageWords.sentence(PageWords.cut(PageWords.printable(text).strip(), roomy ? FREE_TEXT_OF_FEW : FREE_TEXT));
    }
}
