package comebackledger.code;

import comebackledger.Require;

/**
 * What one reading may hold, so that hostile input costs no memory. All common practice, no source.
 *
 * @param maxLines of a log that are read
 * @param maxOpenMessages segmented messages put together at the same time
 * @param maxCodes different codes kept
 * @param maxRejections listed
 */
public record Limits(int maxLines, int maxOpenMessages, int maxCodes, int maxRejections) {
    public static final Limits DEFAULT = new Limits(500_000, 1024, 20_000, 10_000);

    public Limits {
        Require.that(maxLines > 0 && maxOpenMessages > 0 && maxCodes > 0 && maxRejections > 0, "every limit must be above 0");
    }
}
