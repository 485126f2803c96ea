package comebackledger.api.page;

import comebackledger.api.picture.Shown;
import comebackledger.trail.Words;
import java.text.BreakIterator;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** The wire's words as a person reads them. */
final class PageWords {
    private static final DateTimeFormatter MINUTE = DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm 'UTC'", Locale.ROOT).withZone(ZoneOffset.UTC);

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

    private static String capital(String word) {
        return word.isEmpty() ? word : word.substring(0, 1).toUpperCase(Locale.ROOT) + word.substring(1);
    }

    static String test(String word) {
        return switch (word) {
            case "high-low-at-connector" -> "Resistance high to low, at the connector";
            case "high-ground-at-connector" -> "Resistance high to ground, at the connector";
            case "low-ground-at-connector" -> "Resistance low to ground, at the connector";
            case "high-supply-at-connector" -> "Resistance high to the positive cable, at the connector";
            case "low-supply-at-connector" -> "Resistance low to the positive cable, at the connector";
            case "high-low-at-module" -> "Resistance high to low, at a module's plug";
            case "repeat-power-off" -> "The same readings with the power off";
            case "terminator-out" -> "Terminator out: it, and the rest without it";
            case "module-pins" -> "The unplugged module's own pins";
            case "line-end-to-end" -> "Each line from end to end";
            case "wiggle" -> "Wiggle the harness while a reading is watched";
            case "supply-drop" -> "Voltage drop of supply and ground under load";
            case "held-flow" -> "Held pressure, flow through the leak";
            case "hold-down" -> "Pressure decay over a time";
            case "smoke" -> "Smoke";
            default -> of(word);
        };
    }

    /** A place, the part first. */
    static String place(String place) {
        if (place.equals("charge-air") || place.startsWith("network.") && place.indexOf('.') == place.lastIndexOf('.')) {
            return capital(Shown.system(place));
        }
        int dot = place.lastIndexOf('.');
        return dot < 0 ? place : place.substring(dot + 1) + ", " + Shown.system(place.substring(0, dot));
    }

    static String percent(double share) {
        return share < 0.01 ? "below 1 %" : Words.percent(share);
    }

    static String bits(double bits) {
        return String.format(Locale.ROOT, bits < 0.1 ? "%.2f" : "%.1f", bits);
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
