package comebackledger.api.page;

import comebackledger.api.picture.Shown;
import comebackledger.bus.FaultKind;
import comebackledger.bus.TestKind;
import comebackledger.trail.Words;
import comebackledger.visit.AirMethod;
import comebackledger.visit.Place;
import java.text.BreakIterator;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The wire's words as a person reads them. */
final class PageWords {
    private static final DateTimeFormatter MINUTE = DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm 'UTC'", Locale.ROOT).withZone(ZoneOffset.UTC);
    /** Places and series, as the ledger's own sentences name them. */
    private static final Pattern PLACE = Pattern
            .compile("(?<![\\w.-])(network\\.[a-z0-9_-]+|charge-air|supply)(\\.[A-Za-z0-9][A-Za-z0-9_-]*)?(?![\\w-])");
    /** The closed lists of faults and tests, where they are words of the wire and not of a person. */
    private static final Pattern WORD = Pattern.compile("(?<![\\w-])("
            + Stream.concat(Arrays.stream(FaultKind.values()).map(FaultKind::word), Arrays.stream(TestKind.values()).map(TestKind::word))
                    .filter(word -> word.contains("-")).collect(Collectors.joining("|"))
            + ")(?![\\w-])");

    private PageWords() {}

    static String day(Instant at) {
        return at.atZone(ZoneOffset.UTC).toLocalDate().toString();
    }

    static String minute(Instant at) {
        return MINUTE.format(at);
    }

    static String of(String word) {
        return capital(word.replace('-', ' '));
    }

    static String capital(String word) {
        return word.isEmpty() ? word : word.substring(0, 1).toUpperCase(Locale.ROOT) + word.substring(1);
    }

    /** A fault of the bus room, or a leak. */
    static String fault(String word) {
        return FaultKind.ofWord(word).map(PageWords::fault).orElseGet(() -> of(word));
    }

    private static String fault(FaultKind fault) {
        return switch (fault) {
            case NONE_FOUND -> "No fault";
            case INTERMITTENT_NONE_PRESENT -> "Intermittent, nothing wrong now";
            case TEST_CONDITION -> "The way of testing";
            case TERMINATOR_MISSING -> "Terminator missing";
            case TERMINATOR_DRIFTED -> "Terminator out of tolerance";
            case EXTRA_TERMINATOR -> "One terminator too many";
            case TRUNK_OPEN -> "Break in the trunk";
            case TRUNK_SERIES_RESISTANCE -> "Corroded joint in the trunk";
            case TRUNK_SHORT_HIGH_LOW -> "Both lines joined";
            case SHORT_TO_GROUND -> "Short to ground";
            case SHORT_TO_SUPPLY -> "Short to supply";
            case MODULE_SUPPLY -> "Power or ground of the module";
            case MODULE_STUB -> "Branch or plug of the module";
            case MODULE_INTERNAL -> "Module failed inside";
            case MODULE_SHUNT -> "Module loads the lines";
            case MODULE_UNPLUGGED -> "Module unplugged";
            case REPORTER_ITSELF -> "The accusing module itself";
            case SENDER_DATA -> "Bad data of a module that is heard";
            case SUPPLY_LOW -> "Low supply";
            case CONNECTOR_FAULT -> "Diagnostic connector or its branch";
            case OTHER -> "Something else";
        };
    }

    static String test(String word) {
        Optional<TestKind> onNetwork = TestKind.ofWord(word);
        if (onNetwork.isPresent()) {
            return test(onNetwork.get());
        }
        return Arrays.stream(AirMethod.values()).filter(method -> method.word().equals(word)).findFirst().map(PageWords::test).orElse(of(word));
    }

    private static String test(AirMethod method) {
        return switch (method) {
            case SMOKE -> "Smoke: look where it leaks";
            case HELD_FLOW -> "Hold the pressure, measure the flow through the leak";
            case HOLD_DOWN -> "Let the pressure fall, measure over a time";
        };
    }

    private static String test(TestKind test) {
        return switch (test) {
            case REPEAT_POWER_OFF -> "The same readings with the power off";
            case ROLL_CALL -> "Roll call: which modules answer";
            case HIGH_LOW_AT_CONNECTOR -> "Resistance, high line to low line";
            case HIGH_GROUND_AT_CONNECTOR -> "Resistance, high line to ground";
            case LOW_GROUND_AT_CONNECTOR -> "Resistance, low line to ground";
            case HIGH_SUPPLY_AT_CONNECTOR -> "Resistance, high line to the positive cable";
            case LOW_SUPPLY_AT_CONNECTOR -> "Resistance, low line to the positive cable";
            case RESTING_VOLTAGES -> "Resting voltages of both lines";
            case HIGH_LOW_AT_MODULE -> "Resistance, high line to low line, at the module's plug";
            case MODULE_PINS -> "Resistance of the unplugged module's own pins";
            case UNPLUG_MODULE -> "Unplug the module and watch the reading";
            case TERMINATOR_OUT -> "Take the terminator out: measure it, and the rest without it";
            case SPLIT_TRUNK -> "Split the trunk: measure both halves";
            case LINE_END_TO_END -> "Each line from end to end";
            case WIGGLE -> "Wiggle the harness and watch a reading";
            case SUPPLY_DROP -> "Voltage drop of supply and ground, under load";
        };
    }

    private static String quoted(String words) {
        return "\u201c" + words + "\u201d";
    }

    /** A place, the part first. */
    static String place(String place) {
        Optional<Place> known = Place.parse(place);
        if (known.isEmpty() || known.get().part().isEmpty()) {
            return known.map(all -> Shown.system(all.system())).orElse(place);
        }
        if (known.get().equals(Place.SUPPLY)) {
            return "supply of the vehicle";
        }
        String part = known.get().part().get();
        String system = Shown.system(known.get().system());
        String joined = !known.get().isNetwork() ? ", " : part.equals("trunk") ? " of " : " on ";
        return part.equals("unlocated") ? system + ", spot not located" : part + joined + system;
    }

    /** A sentence of the ledger's own: its places in a person's words, its faults and tests as this page names them. */
    static String told(String sentence) {
        String places = PLACE.matcher(sentence).replaceAll(found -> Matcher.quoteReplacement(named(found)));
        return WORD.matcher(places).replaceAll(found -> Matcher.quoteReplacement(
                TestKind.ofWord(found.group()).map(PageWords::test).orElseGet(() -> fault(found.group())).transform(PageWords::quoted)));
    }

    private static String named(MatchResult found) {
        String name = found.group();
        boolean series = Optional.ofNullable(found.group(2)).filter(part -> part.equals(".highLowOhm") || part.equals(".orificeMm")).isPresent();
        return series ? quoted(Shown.name(name)) : name.equals("supply") ? name : place(name);
    }

    static String percent(double share) {
        return (share < 0.01 ? "below 1 %" : Words.percent(share)).replace(' ', '\u00a0');
    }

    /** With a full stop, unless it has an end of its own. */
    static String sentence(String text) {
        return text.isEmpty() || ".!?\u2026".indexOf(text.charAt(text.length() - 1)) >= 0 ? text : text + ".";
    }

    /** What no page may hold (controls, halves of characters, code points that are none) is shown as the sign of a lost character. */
    static String printable(String text) {
        StringBuilder shown = new StringBuilder(text.length());
        text.codePoints().forEach(point -> shown.appendCodePoint(isText(point) ? point : 0xFFFD));
        return shown.toString();
    }

    private static boolean isText(int point) {
        boolean control = Character.getType(point) == Character.CONTROL && !Character.isWhitespace(point);
        boolean none = (point & 0xFFFE) == 0xFFFE || point >= 0xFDD0 && point <= 0xFDEF;
        return !control && !none && Character.getType(point) != Character.SURROGATE;
    }

    /** At most so many characters as a person counts them. */
    static String cut(String text, int characters) {
        BreakIterator breaks = BreakIterator.getCharacterInstance(Locale.ROOT);
        breaks.setText(text);
        int end = 0;
        for (int i = 0; i < characters; i++) {
            int next = breaks.next();
            if (next == BreakIterator.DONE) {
                return text;
            }
            end = next;
        }
        return end >= text.length() ? text : text.substring(0, end) + "\u2026";
    }
}
