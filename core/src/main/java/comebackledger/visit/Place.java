package comebackledger.visit;

import java.util.Optional;
import java.util.regex.Pattern;

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

    private static final Pattern NAME = Pattern.compile("[a-z0-9][a-z0-9_-]{0,63}");
    private static final String NETWORK = "network.";

    public static String network(String name) {
        return NETWORK + name;
    }

    public static Place of(String system, String part) {
        return new Place(system, Optional.of(part));
    }

    /** The place of a text as sent, or empty where no trail can hang on it. */
    public static Optional<Place> parse(String text) {
        if (text.equals(SUPPLY.toString())) {
            return Optional.of(SUPPLY);
        }
        String[] parts = text.split("\\.", -1);
        boolean names = true;
        for (String part : parts) {
            names &= NAME.matcher(part).matches();
        }
        if (!names) {
            return Optional.empty();
        }
        boolean network = parts[0].equals("network");
        int system = network ? 2 : parts[0].equals(CHARGE_AIR) ? 1 : 0;
        if (system == 0 || parts.length < system || parts.length > system + 1) {
            return Optional.empty();
        }
        return Optional
                .of(new Place(network ? network(parts[1]) : CHARGE_AIR, parts.length > system ? Optional.of(parts[system]) : Optional.empty()));
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
