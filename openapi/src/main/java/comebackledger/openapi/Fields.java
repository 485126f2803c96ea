package comebackledger.openapi;

import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.measure.Kind;
import comebackledger.measure.OverRange;
import comebackledger.measure.Quantity;
import comebackledger.measure.Reading;
import comebackledger.measure.UnitOfMeasure;
import comebackledger.visit.Place;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Iterator;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/**
 * One JSON object, read strictly. Each reading method remembers the name as known, adds a fault with its pointer where the value is not
 * possible, and answers empty then; {@link #build} refuses the names that nobody asked for and makes the value only if nothing was wrong.
 */
public final class Fields {
    private static final int NAME_CHARACTERS_AT_MOST = 64;
    /** No shop measures beyond this in any unit's SI value. */
    private static final double LARGEST_SI = 1e12;

    private static final int NOT_IN_A_LIST = -1;

    private final JsonNode node;
    private final Faults faults;
    private final int faultsBefore;
    /** Where it stands: a pointer is put together only for a fault. */
    private final @Nullable Fields parent;
    private final String name;
    private final int index;
    /** In the order asked for, some more than once: a set would cost more than all else in a body without a fault. */
    private String[] known = new String[8];
    private int knownCount;

    private Fields(JsonNode node, @Nullable Fields parent, String name, int index, Faults faults) {
        this.node = node;
        this.parent = parent;
        this.name = name;
        this.index = index;
        this.faults = faults;
        this.faultsBefore = faults.count();
    }

    /** The root of a body from {@link Json#object}. */
    public static Fields of(JsonNode object, Faults faults) {
        return of(object, "", faults);
    }

    /** A member inside a larger document, such as one line of an import. */
    public static Fields of(JsonNode object, String pointer, Faults faults) {
        return new Fields(object, null, pointer, NOT_IN_A_LIST, faults);
    }

    static String escaped(String name) {
        return name.replace("~", "~0").replace("/", "~1");
    }

    public String pointer() {
        if (parent == null) {
            return name;
        }
        return index == NOT_IN_A_LIST ? parent.pointer(name) : parent.pointer(name, index);
    }

    public String pointer(String member) {
        return pointer() + "/" + escaped(member);
    }

    private String pointer(String list, int entry) {
        return pointer(list) + "/" + entry;
    }

    public Faults faults() {
        return faults;
    }

    public void fault(String name, String detail) {
        faults.add(pointer(name), detail);
    }

    /** Whether the field was sent at all, sound or not; counts as asked for. */
    public boolean has(String name) {
        return member(name) != null;
    }

    private @Nullable JsonNode member(String name) {
        if (knownCount == known.length) {
            known = Arrays.copyOf(known, 2 * knownCount);
        }
        known[knownCount++] = name;
        return node.get(name);
    }

    private boolean knows(String member) {
        for (int i = 0; i < knownCount; i++) {
            if (known[i].equals(member)) {
                return true;
            }
        }
        return false;
    }

    /** Adds a fault if the field was not sent; passes the value on. */
    public <T> Optional<T> required(String name, Optional<T> value) {
        if (!has(name)) {
            fault(name, "`" + name + "` is missing. It is required here.");
        }
        return value;
    }

    public double requiredNumber(String name, double min, double max) {
        OptionalDouble value = number(name, min, max);
        if (!has(name)) {
            fault(name, "`" + name + "` is missing. It is required here.");
        }
        return value.orElse(min);
    }

    public Optional<String> text(String name) {
        JsonNode value = member(name);
        if (value == null) {
            return Optional.empty();
        }
        return value.isTextual() ? Optional.of(value.textValue()) : refuse(name, "must be text in quotes");
    }

    /** {@code [A-Za-z0-9][A-Za-z0-9._-]{0,63}}. */
    public Optional<String> identifier(String name) {
        Optional<String> text = text(name);
        return text.isEmpty() || isIdentifier(text.get())
                ? text
                : refuse(name, "must be 1 to 64 letters, digits, dots, underscores or hyphens, beginning with a letter or digit");
    }

    public static boolean isIdentifier(String text) {
        boolean sound = isShort(text);
        for (int i = 0; sound && i < text.length(); i++) {
            char c = text.charAt(i);
            sound = isLowerOrDigit(c) || c >= 'A' && c <= 'Z' || i > 0 && (c == '.' || c == '_' || c == '-');
        }
        return sound;
    }

    private static boolean isShort(String text) {
        return !text.isEmpty() && text.length() <= NAME_CHARACTERS_AT_MOST;
    }

    private static boolean isLowerOrDigit(char c) {
        return c >= 'a' && c <= 'z' || c >= '0' && c <= '9';
    }

    /** The name of a network, module or spot: an identifier in lower case without dots. */
    public Optional<String> name(String name) {
        Optional<String> text = text(name);
        return text.isEmpty() || isName(text.get()) ? text : refuse(name, NAME_RULE);
    }

    private static final String NAME_RULE = "must be 1 to 64 lower-case letters, digits, underscores or hyphens, beginning with a letter or digit, without dots";

    public static boolean isName(String text) {
        return Place.isName(text);
    }

    public List<String> names(String name) {
        List<String> found = new ArrayList<>();
        elements(name, (value, at) -> {
            if (value.isTextual() && isName(value.textValue())) {
                found.add(value.textValue());
            } else {
                faults.add(pointer(name, at), "A name " + NAME_RULE + ".");
            }
        });
        return List.copyOf(found);
    }

    public List<String> texts(String name) {
        List<String> found = new ArrayList<>();
        elements(name, (value, at) -> {
            if (value.isTextual()) {
                found.add(value.textValue());
            } else {
                faults.add(pointer(name, at), "Each entry must be text in quotes.");
            }
        });
        return List.copyOf(found);
    }

    /** One text, or a list of texts. */
    public List<String> textOrTexts(String name) {
        JsonNode value = member(name);
        return value != null && value.isTextual() ? List.of(value.textValue()) : texts(name);
    }

    public OptionalDouble number(String name, double min, double max) {
        JsonNode value = member(name);
        if (value == null) {
            return OptionalDouble.empty();
        }
        if (!value.isNumber() || !Double.isFinite(value.doubleValue())) {
            refuse(name, "must be a finite number, without quotes");
            return OptionalDouble.empty();
        }
        if (!(value.doubleValue() >= min && value.doubleValue() <= max)) {
            refuse(name, max == Double.MAX_VALUE ? "cannot be below " + plain(min) : "must be from " + plain(min) + " to " + plain(max));
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(value.doubleValue());
    }

    public OptionalInt integer(String name, int min, int max) {
        OptionalDouble value = number(name, min, max);
        if (value.isEmpty()) {
            return OptionalInt.empty();
        }
        if (value.getAsDouble() != Math.rint(value.getAsDouble())) {
            refuse(name, "must be a whole number from " + min + " to " + max);
            return OptionalInt.empty();
        }
        return OptionalInt.of((int) value.getAsDouble());
    }

    /** Every entry a finite number within the bounds. */
    public double[] numbers(String name, double min, double max, int atMost) {
        List<Double> found = new ArrayList<>();
        elements(name, (value, at) -> {
            if (found.size() > atMost) {
                return;
            }
            if (!value.isNumber() || !Double.isFinite(value.doubleValue()) || value.doubleValue() < min || value.doubleValue() > max) {
                faults.add(pointer(name, at), "Each entry must be a finite number from " + plain(min) + " to " + plain(max) + ".");
            }
            found.add(value.doubleValue());
        });
        if (found.size() > atMost) {
            fault(name, "`" + name + "` has more than " + atMost + " entries, the limit of one calculation.");
        }
        return found.stream().mapToDouble(Double::doubleValue).toArray();
    }

    public Optional<Boolean> flag(String name) {
        JsonNode value = member(name);
        if (value == null) {
            return Optional.empty();
        }
        return value.isBoolean() ? Optional.of(value.booleanValue()) : refuse(name, "must be true or false, without quotes");
    }

    /** A word of a closed set, found by its wire spelling. */
    public <E> Optional<E> word(String name, Map<String, E> words) {
        Optional<String> text = text(name);
        if (text.isEmpty()) {
            return Optional.empty();
        }
        E found = words.get(text.get());
        return found != null ? Optional.of(found) : refuse(name, "must be one of " + String.join(", ", words.keySet()));
    }

    /** RFC 3339 with an offset. */
    public Optional<Instant> time(String name) {
        Optional<String> text = text(name);
        if (text.isEmpty()) {
            return Optional.empty();
        }
        Optional<Instant> instant = Times.instant(text.get());
        return instant.isPresent()
                ? instant
                : refuse(name,
                        "must be a time with an offset (RFC 3339), such as 2026-03-01T08:00:00Z or 2026-03-01T09:00:00+01:00, from 1900 to 2199");
    }

    /** A quantity of one of these kinds, never over range. */
    public Optional<Quantity> quantity(String name, Kind... kinds) {
        Optional<Reading> reading = reading(name, kinds);
        if (reading.isEmpty()) {
            return Optional.empty();
        }
        return switch (reading.get()) {
            case Quantity quantity -> Optional.of(quantity);
            case OverRange _ -> refuse(name, "needs a value; only a resistance reading can be over range");
        };
    }

    /** A quantity, or a meter beyond its range. */
    public Optional<Reading> reading(String name, Kind... kinds) {
        Optional<Fields> object = object(name);
        return object.isEmpty() ? Optional.empty() : object.get().asReading(kinds);
    }

    /** This object itself as a quantity, or as a meter beyond its range. */
    public Optional<Reading> asReading(Kind... kinds) {
        Optional<String> symbol = required("unit", text("unit"));
        Optional<UnitOfMeasure> unit = symbol.isEmpty() ? Optional.empty() : unitOf(symbol.get(), kinds);
        boolean over = flag("overRange").orElse(false);
        OptionalDouble value = number("value", -Double.MAX_VALUE, Double.MAX_VALUE);
        OptionalDouble uncertainty = number("standardUncertainty", 0, Double.MAX_VALUE);
        boolean hasValue = has("value");
        if (over && hasValue) {
            fault("value", "A meter beyond its range shows no value. Send either `value` or `overRange: true`.");
        } else if (!over && !hasValue) {
            fault("value", "`value` is missing. Send the number the meter showed, or `overRange: true` if it was beyond its range.");
        }
        if (over && unit.isPresent() && unit.get().kind() != Kind.RESISTANCE) {
            fault("overRange", "Only a resistance reading can be over range.");
        }
        return this
                .<Reading>build(() -> over ? new OverRange(unit.orElseThrow()) : new Quantity(value.getAsDouble(), unit.orElseThrow(), uncertainty))
                .filter(this::possible);
    }

    private Optional<UnitOfMeasure> unitOf(String symbol, Kind... kinds) {
        Optional<UnitOfMeasure> unit = UnitOfMeasure.ofSymbol(symbol);
        if (unit.isEmpty()) {
            fault("unit", "This is not a unit of measure known here; needed is one of " + symbols(kinds) + ".");
        } else if (!Arrays.asList(kinds).contains(unit.get().kind())) {
            fault("unit", symbol + " measures " + unit.get().kind().word() + "; needed is one of " + symbols(kinds) + ".");
            return Optional.empty();
        }
        return unit;
    }

    private static String symbols(Kind... kinds) {
        return String.join(", ", Arrays.stream(kinds).flatMap(kind -> UnitOfMeasure.symbolsOf(kind).stream()).toList());
    }

    private boolean possible(Reading reading) {
        if (!(reading instanceof Quantity quantity)) {
            return true;
        }
        double si = quantity.si();
        String wrong = switch (quantity.unit().kind()) {
            case RESISTANCE, VOLUME_FLOW, MASS_FLOW, LENGTH, AREA, VOLUME, DISTANCE, TIME -> si >= 0
                    ? ""
                    : "A " + quantity.unit().kind().word()
                            + " cannot be below 0.";
            case TEMPERATURE -> si > 0 ? "" : "A temperature must be above absolute zero (-273.15 degC).";
            case PRESSURE, VOLTAGE -> "";
        };
        if (wrong.isEmpty() && Math.abs(si) > LARGEST_SI) {
            wrong = "No shop measures a number this large. Check the value and its unit.";
        }
        if (!wrong.isEmpty()) {
            fault("value", wrong);
        }
        boolean certain = quantity.unit().differenceToSi(quantity.standardUncertainty().orElse(0)) <= LARGEST_SI;
        if (!certain) {
            fault("standardUncertainty", "No shop's meter is this uncertain. Check the number and its unit.");
        }
        return wrong.isEmpty() && certain;
    }

    public Optional<Fields> object(String name) {
        JsonNode value = member(name);
        if (value == null) {
            return Optional.empty();
        }
        return value.isObject()
                ? Optional.of(new Fields(value, this, name, NOT_IN_A_LIST, faults))
                : refuse(name, "must be an object in braces");
    }

    /** The objects of a list; empty if the field was left out. */
    public List<Fields> objects(String name) {
        List<Fields> found = new ArrayList<>();
        elements(name, (value, at) -> {
            if (value.isObject()) {
                found.add(new Fields(value, this, name, at, faults));
            } else {
                faults.add(pointer(name, at), "Each entry must be an object in braces.");
            }
        });
        return found;
    }

    /** Every object of a list through a mapping; the entries that failed have left their faults. */
    public <T> List<T> list(String name, int atMost, Function<Fields, Optional<T>> mapping) {
        List<Fields> objects = objects(name);
        if (objects.isEmpty()) {
            return List.of();
        }
        if (objects.size() > atMost) {
            fault(name, "`" + name + "` has more than " + atMost + " entries, the limit here.");
            return List.of();
        }
        List<T> found = new ArrayList<>(objects.size());
        objects.forEach(fields -> mapping.apply(fields).ifPresent(found::add));
        return List.copyOf(found);
    }

    /** The member names of this object, all counted as asked for: for maps whose keys are the caller's. */
    public List<String> memberNames() {
        List<String> names = new ArrayList<>();
        node.fieldNames().forEachRemaining(names::add);
        names.forEach(this::member);
        return names;
    }

    private interface Element {
        void read(JsonNode value, int at);
    }

    private void elements(String name, Element element) {
        JsonNode value = member(name);
        if (value == null) {
            return;
        }
        if (!value.isArray()) {
            refuse(name, "must be a list in brackets");
            return;
        }
        for (int i = 0; i < value.size(); i++) {
            element.read(value.get(i), i);
        }
    }

    /** Refuses every field that nobody asked for. */
    public void refuseUnknown() {
        Iterator<String> names = node.fieldNames();
        while (names.hasNext()) {
            String member = names.next();
            if (!knows(member)) {
                faults.addUnknownField(pointer(member), "This field is not known here, and would be lost. Known are: "
                        + String.join(", ", new LinkedHashSet<>(Arrays.asList(known).subList(0, knownCount))) + ".");
            }
        }
    }

    /** The value, if nothing in this object was wrong; what the value's own constructor refuses becomes a fault of this object. */
    public <T> Optional<T> build(Supplier<? extends T> value) {
        refuseUnknown();
        if (faults.count() > faultsBefore) {
            return Optional.empty();
        }
        try {
            return Optional.of(value.get());
        } catch (IllegalArgumentException e) {
            faults.add(pointer(), String.valueOf(e.getMessage()));
            return Optional.empty();
        }
    }

    private <T> Optional<T> refuse(String name, String rule) {
        fault(name, "`" + name + "` " + rule + ".");
        return Optional.empty();
    }

    private static String plain(double bound) {
        return bound == Math.rint(bound) && Math.abs(bound) < 1e15 ? Long.toString((long) bound) : Double.toString(bound);
    }
}
