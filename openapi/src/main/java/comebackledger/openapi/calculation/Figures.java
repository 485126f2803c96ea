package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.openapi.Fields;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** What the statistics ask and answer alike: sizes, levels, and figures that are left out with their reason under {@code undefined}. */
final class Figures {
    /** Entries of one list; {@code common practice, no source}. */
    static final int ENTRIES_AT_MOST = 100_000;
    /** Times, distances and values; wide enough for any unit, narrow enough that no square of one overflows. */
    static final double LARGEST = 1e30;

    private static final double USUAL_LEVEL = 0.95;
    private static final int ID_CHARACTERS_AT_MOST = 200;

    private Figures() {}

    /** A list of numbers that must be sent, if only empty. */
    static double[] required(Fields body, String name, double min) {
        double[] numbers = body.numbers(name, min, LARGEST, ENTRIES_AT_MOST);
        return body.required(name, Optional.of(numbers)).orElseThrow();
    }

    /** A number that must be sent; empty with a fault where it was not, or is not possible. */
    static OptionalDouble requiredNumber(Fields entry, String name, double min, double max) {
        OptionalDouble number = entry.number(name, min, max);
        entry.required(name, Optional.of(number));
        return number;
    }

    static double confidenceLevel(Fields body) {
        return share(body, "confidenceLevel", USUAL_LEVEL);
    }

    /** A number between 0 and 1, neither of them. */
    static double share(Fields body, String name, double usual) {
        OptionalDouble level = body.number(name, 0, 1);
        if (level.isPresent() && (level.getAsDouble() == 0 || level.getAsDouble() == 1)) {
            body.fault(name, "`" + name + "` must be above 0 and below 1. Left out, it is " + usual + ".");
            return usual;
        }
        return level.orElse(usual);
    }

    static OptionalDouble above0(Fields body, String name, double max) {
        OptionalDouble number = body.number(name, 0, max);
        if (number.isPresent() && number.getAsDouble() == 0) {
            body.fault(name, "`" + name + "` must be above 0.");
            return OptionalDouble.empty();
        }
        return number;
    }

    /** The caller's own name of a unit or group, of any characters. */
    static Optional<String> id(Fields entry) {
        Optional<String> id = entry.text("id");
        if (id.isPresent() && (id.get().isBlank() || id.get().length() > ID_CHARACTERS_AT_MOST)) {
            entry.fault("id", "`id` must have 1 to " + ID_CHARACTERS_AT_MOST + " characters and not be blank.");
        }
        return id;
    }

    /** A name that stands twice would make two answers look like one. */
    static void refuseTwice(Fields body, String list, Collection<Optional<String>> ids) {
        Set<String> seen = new HashSet<>();
        int at = 0;
        for (Optional<String> id : ids) {
            if (id.isPresent() && !seen.add(id.get())) {
                body.faults().add(body.pointer(list) + "/" + at + "/id", "An entry before this one has the same `id`. Send each once.");
            }
            at++;
        }
    }

    /** Leaves out what is not a number, which only extremes beyond the range of numbers make. */
    static void put(ObjectNode node, String name, double value) {
        if (Double.isFinite(value)) {
            node.put(name, value + 0.0); // no negative zero
        }
    }

    static void put(ObjectNode node, String name, OptionalDouble value) {
        value.ifPresent(number -> put(node, name, number));
    }

    static void undefined(ObjectNode node, List<String> reasons) {
        if (!reasons.isEmpty()) {
            node.put("undefined", String.join("; ", reasons));
        }
    }

    /** The reasons whose figure is missing from the node. */
    static List<String> missing(ObjectNode node, String... namesAndReasons) {
        List<String> reasons = new ArrayList<>();
        for (int i = 0; i < namesAndReasons.length; i += 2) {
            if (!node.has(namesAndReasons[i])) {
                reasons.add(namesAndReasons[i] + ": " + namesAndReasons[i + 1]);
            }
        }
        return reasons;
    }
}
