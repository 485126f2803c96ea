package comebackledger.api.picture;

import comebackledger.measure.UnitOfMeasure;
import comebackledger.policy.Policy.Display;
import java.util.Locale;

/** Numbers as pages and pictures show them, in the units that the fleet's policy sets. */
public record Shown(Display display) {
    private static final double KM_PER_MILE = UnitOfMeasure.MILE.toSi(1);
    private static final double MM_PER_INCH = UnitOfMeasure.INCH.toSi(1) * 1000;

    /** Between thousands, where no line may break. */
    private static final char NARROW = '\u00a0';

    private boolean us() {
        return display == Display.US;
    }

    /** A reading in the unit it is shown in. @param reading such as {@code orificeMm} */
    double value(String reading, double value) {
        return reading.endsWith("Mm") && us() ? value / MM_PER_INCH : value;
    }

    String unit(String reading) {
        return reading.endsWith("Mm") ? us() ? "in" : "mm" : reading.endsWith("Ohm") ? "ohm" : "";
    }

    /** A reading with its unit. */
    public String reading(String reading, double value) {
        return plain(value(reading, value)) + " " + unit(reading);
    }

    public String distance(double km) {
        return String.format(Locale.ROOT, "%,d", Math.round(us() ? km / KM_PER_MILE : km)).replace(',', NARROW) + (us() ? "\u00a0mi" : "\u00a0km");
    }

    /** Three digits that matter, and no exponent. */
    static String plain(double value) {
        double size = Math.abs(value);
        int decimals = size >= 100 || size == 0 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3;
        String text = String.format(Locale.ROOT, "%." + decimals + "f", value);
        return text.contains(".") ? text.replaceAll("0+$", "").replaceAll("\\.$", "") : text;
    }

    /** A series in words. */
    public static String name(String series) {
        int dot = series.lastIndexOf('.');
        String system = system(series.substring(0, dot));
        return switch (series.substring(dot + 1)) {
            case "highLowOhm" -> "Between high and low, " + system;
            case "orificeMm" -> "Leak as one round hole, " + system;
            default -> series.substring(dot + 1) + ", " + system;
        };
    }

    /** A system in words. */
    public static String system(String system) {
        return system.startsWith("network.")
                ? "network " + system.substring("network.".length())
                : system.equals("charge-air") ? "charge air" : system;
    }
}
