package comebackledger.air;

import comebackledger.measure.Measured;
import java.util.Locale;

/** The verdict in words: what is compared with which limit, and how sure that is. */
final class Grounds {
    /** Coverage factor of 95 % (JCGM 100:2008, table G.1). */
    static final double COVERAGE_95 = 1.96;

    private Grounds() {}

    static String share(Measured share, double limit) {
        Measured percent = new Measured(100 * share.value(), 100 * share.standardUncertainty());
        return sentence("The leak takes %s %% of the engine's air at rated boost, and %s %% may be lost.", percent, 100 * limit, " %");
    }

    static String orifice(Measured orificeMm, double limitMm) {
        return sentence("The leak is as large as one hole of %s mm, and %s mm is allowed.", orificeMm, limitMm, " mm");
    }

    private static String sentence(String comparison, Measured value, double limit, String unit) {
        double low = Math.max(0, value.value() - COVERAGE_95 * value.standardUncertainty());
        double high = value.value() + COVERAGE_95 * value.standardUncertainty();
        String said = String.format(Locale.ROOT, comparison, digits(value.value()), digits(limit));
        return low <= limit && limit < high
                ? said + " The limit lies inside the 95 % interval, " + digits(low) + " to " + digits(high) + unit
                        + ": the best estimate decides, and a repeat may decide otherwise."
                : said;
    }

    /** Three digits that count, and never an exponent. */
    private static String digits(double value) {
        return value == 0 ? "0" : String.format(Locale.ROOT, "%." + Math.max(0, 2 - (int) Math.floor(Math.log10(value))) + "f", value);
    }
}
