package comebackledger.api.http;

import comebackledger.openapi.Faults;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Times;
import comebackledger.openapi.Problem;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Function;
import java.util.regex.Pattern;

/**
 * The query parameters of one request. Each reading method adds a fault where a value is not possible; {@link #check} throws them all, with those of
 * names that are not known. Where no name is known there is nothing to read, and the constructor throws.
 */
public final class Query {
    private static final String CURSOR = "must be a cursor from `next` or from an item of an earlier answer of this list";
    private static final int PAGE_BY_DEFAULT = 100;
    private static final int PAGE_AT_MOST = 1000;
    private static final int VALUE_CHARACTERS_AT_MOST = 512;
    private static final Pattern NUMBER = Pattern.compile("-?[0-9]{1,30}(\\.[0-9]{1,30})?([eE][+-]?[0-9]{1,3})?");
    private static final Pattern PLACE = Pattern.compile("[A-Za-z0-9._-]{1,198}(\\.\\*)?");
    private static final Pattern WHOLE = Pattern.compile("[0-9]{1,10}");

    private final Map<String, String> values = new LinkedHashMap<>();
    private final Faults faults = new Faults();

    Query(String raw, Set<String> known) {
        for (String pair : raw.isEmpty() ? new String[0] : raw.split("&")) {
            int equals = pair.indexOf('=');
            Optional<String> name = text(equals < 0 ? pair : pair.substring(0, equals));
            Optional<String> value = text(equals < 0 ? "" : pair.substring(equals + 1));
            if (name.isEmpty() || !known.contains(name.get())) {
                if (!pair.isEmpty()) {
                    faults.addUnknownField("?" + name.filter(Fields::isIdentifier).orElse(""), unknown(known));
                }
            } else if (value.isEmpty() || value.get().length() > VALUE_CHARACTERS_AT_MOST) {
                refuse(name.get(), "must be percent-encoded UTF-8 of at most " + VALUE_CHARACTERS_AT_MOST + " characters");
            } else if (values.putIfAbsent(name.get(), value.get()) != null) {
                refuse(name.get(), "stands twice. Send it once");
            }
        }
        if (known.isEmpty()) {
            check();
        }
    }

    private static String unknown(Set<String> known) {
        return known.isEmpty()
                ? "No query parameter is known here. Leave it out."
                : "This query parameter is not known here. Known are: " + String.join(", ", known.stream().sorted().toList()) + ".";
    }

    private static Optional<String> text(String raw) {
        return Percent.decoded(raw.replace('+', ' '));
    }

    private Optional<String> value(String name) {
        return Optional.ofNullable(values.get(name));
    }

    private <T> Optional<T> read(String name, Function<String, Optional<T>> reading, String rule) {
        Optional<String> value = value(name);
        Optional<T> read = value.flatMap(reading);
        if (value.isPresent() && read.isEmpty()) {
            refuse(name, rule);
        }
        return read;
    }

    /** {@code raw} may hold a plus sign that stood for itself in an offset: a time is the one value where both are told apart. */
    public Optional<Instant> time(String name) {
        return read(name, text -> Times.instant(text.replace(' ', '+')),
                "must be a time with an offset (RFC 3339), such as 2026-03-01T08:00:00Z, from 1900 to 2199");
    }

    public OptionalDouble number(String name, double min, double max) {
        Optional<Double> number = read(name,
                text -> Optional.of(text).filter(t -> NUMBER.matcher(t).matches()).map(Double::valueOf).filter(n -> n >= min && n <= max),
                "must be a number from " + plain(min) + " to " + plain(max));
        return number.map(OptionalDouble::of).orElseGet(OptionalDouble::empty);
    }

    /** A number above a bound, not at it. */
    public OptionalDouble numberAbove(String name, double above, double max) {
        OptionalDouble number = number(name, above, max);
        if (number.isPresent() && number.getAsDouble() == above) {
            refuse(name, "must be above " + plain(above));
            return OptionalDouble.empty();
        }
        return number;
    }

    /** The place where the page before ended. */
    public <T> Optional<T> cursor(Cursor list, Function<String, Optional<T>> grammar) {
        return read("after", text -> list.place(text).flatMap(grammar), CURSOR);
    }

    /** Refuses a cursor of the right form that this list never gave. */
    public Problem neverGiven() {
        refuse("after", CURSOR + ", and this ledger never gave it: read from the start, without `after`");
        return faults.problem();
    }

    public OptionalInt whole(String name, int min, int max) {
        Optional<Integer> number = read(name,
                text -> Optional.of(text).filter(t -> WHOLE.matcher(t).matches()).map(Long::valueOf).filter(n -> n >= min && n <= max)
                        .map(Long::intValue),
                "must be a whole number from " + min + " to " + max);
        return number.map(OptionalInt::of).orElseGet(OptionalInt::empty);
    }

    /** How many items a page may hold. */
    public int limit() {
        return whole("limit", 1, PAGE_AT_MOST).orElse(PAGE_BY_DEFAULT);
    }

    public Optional<String> identifier(String name) {
        return read(name, text -> Optional.of(text).filter(Fields::isIdentifier),
                "must be 1 to 64 letters, digits, dots, underscores or hyphens, beginning with a letter or digit");
    }

    /** The name of a system or place, with what may stand for several. */
    public Optional<String> place(String name) {
        return read(name, text -> Optional.of(text).filter(t -> PLACE.matcher(t).matches()),
                "must be 1 to 200 letters, digits, dots, underscores or hyphens; a place may end in `.*`");
    }

    public <E> Optional<E> word(String name, Map<String, E> words) {
        return read(name, text -> Optional.ofNullable(words.get(text)),
                "must be one of " + String.join(", ", words.keySet().stream().sorted().toList()));
    }

    private void refuse(String name, String rule) {
        faults.add("?" + name, "`" + name + "` " + rule + ".");
    }

    /** @throws Problem 422 with every fault, if there is one */
    public void check() {
        faults.throwIfAny();
    }

    private static String plain(double bound) {
        return bound == Math.rint(bound) ? Long.toString((long) bound) : Double.toString(bound);
    }
}
