package comebackledger.visit;

import java.util.Optional;

/**
 * Where a fault sits: a system and, unless the system as a whole is meant, a part of it, joined by dots.
 *
 * @param system {@code network.<name>}, {@code charge-air} or {@code supply}
 * @param part a module, {@code trunk}, a terminator, {@code connector}, or a charge-air spot
 */
public record Place(String system, Optional<String> part) implements Comparable<Place> {
    /** The one system that is not a network. */
    public static final String CHARGE_AIR = "charge-air";
    /** The vehicle's supply, which every network hangs on. */
    public static final Place SUPPLY = new Place("supply", Optional.of("vehicle"));

    private static final int NAME_CHARACTERS_AT_MOST = 64;
    private static final String NETWORK = "network.";

    public static String network(String name) {
        return NETWORK + name;
    }

    public static Place of(String system, String part) {
        return new Place(system, Optional.of(part));
    }

    /** The place of a text as sent, or empty where no trail can hang on it. */
    public static Optional<Place> parse(String text) {
        if (text.equals(SUPPLY.toString()) || text.equals(SUPPLY.system())) {
            return Optional.of(text.equals(SUPPLY.system()) ? new Place(text, Optional.empty()) : SUPPLY);
        }
        int head = end(text, 0);
        boolean network = text.startsWith(NETWORK);
        if (!network && !(head == CHARGE_AIR.length() && text.startsWith(CHARGE_AIR))) {
            return Optional.empty();
        }
        int system = network ? end(text, NETWORK.length()) : head;
        boolean whole = system == text.length();
        if (network && !isName(text, NETWORK.length(), system) || !whole && !isName(text, system + 1, text.length())) {
            return Optional.empty();
        }
        return Optional.of(new Place(text.substring(0, system), whole ? Optional.empty() : Optional.of(text.substring(system + 1))));
    }

    private static int end(String text, int from) {
        int dot = text.indexOf('.', from);
        return dot < 0 ? text.length() : dot;
    }

    /** {@code [a-z0-9][a-z0-9_-]{0,63}}: the name of a network, a module or a spot. */
    public static boolean isName(String text) {
        return isName(text, 0, text.length());
    }

    private static boolean isName(String text, int from, int to) {
        boolean name = to > from && to - from <= NAME_CHARACTERS_AT_MOST;
        for (int i = from; name && i < to; i++) {
            char c = text.charAt(i);
            name = c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || i > from && (c == '_' || c == '-');
        }
        return name;
    }

    public boolean isNetwork() {
        return system.startsWith(NETWORK);
    }

    /** The name of the network of a network place. */
    public String networkName() {
        return system.substring(NETWORK.length());
    }

    @Override
    public int compareTo(Place other) {
        return toString().compareTo(other.toString());
    }

    @Override
    public String toString() {
        return part.map(name -> system + "." + name).orElse(system);
    }
}
