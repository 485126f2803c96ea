package comebackledger.api.http;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Which of our media types a caller wants (RFC 9110, 12.5.1). Unreadable parts of the header count as absent. */
final class Accept {
    private static final int RANGES_AT_MOST = 50;

    private Accept() {}

    /** The offered type with the highest quality, the first of equals; empty where none is acceptable. */
    static Optional<String> best(List<String> headers, List<String> offered) {
        String all = String.join(",", headers);
        if (all.isBlank()) {
            return Optional.of(offered.getFirst());
        }
        String[] ranges = all.split(",", RANGES_AT_MOST);
        Optional<String> best = Optional.empty();
        double quality = 0;
        for (String type : offered) {
            double found = quality(ranges, type);
            if (found > quality) {
                quality = found;
                best = Optional.of(type);
            }
        }
        return best;
    }

    /** The quality that the most specific matching range gives. */
    private static double quality(String[] ranges, String type) {
        int specific = 0;
        double quality = 0;
        for (String range : ranges) {
            String[] parts = range.trim().toLowerCase(Locale.ROOT).split(";");
            String name = parts[0].trim();
            int here = name.equals(type) ? 3 : name.equals(type.substring(0, type.indexOf('/')) + "/*") ? 2 : name.equals("*/*") ? 1 : 0;
            if (here > specific) {
                specific = here;
                quality = weight(parts);
            }
        }
        return quality;
    }

    private static double weight(String[] parts) {
        for (int i = 1; i < parts.length; i++) {
            String parameter = parts[i].trim();
            if (parameter.matches("q=(0(\\.[0-9]{0,3})?|1(\\.0{0,3})?)")) {
                return Double.parseDouble(parameter.substring(2));
            }
        }
        return 1;
    }
}
