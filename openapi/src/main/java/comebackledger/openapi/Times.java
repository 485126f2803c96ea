package comebackledger.openapi;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;

/** Times as they are sent: RFC 3339 with an offset, from 1900 to 2199. */
public final class Times {
    private static final Pattern TIME = Pattern.compile("\\d{4}-\\d\\d-\\d\\d[Tt]\\d\\d:\\d\\d:\\d\\d(\\.\\d{1,9})?([Zz]|[+-]\\d\\d:\\d\\d)");
    private static final String WHOLE_SECONDS_IN_UTC = "0000-00-00T00:00:00Z";
    private static final Instant EARLIEST = Instant.parse("1900-01-01T00:00:00Z");
    private static final Instant LATEST = Instant.parse("2200-01-01T00:00:00Z");

    private Times() {}

    /** The instant of an RFC 3339 text, or empty; a date alone is none. */
    public static Optional<Instant> instant(String text) {
        boolean usual = isWholeSecondsInUtc(text);
        if (!usual && !TIME.matcher(text).matches()) {
            return Optional.empty();
        }
        try {
            Instant instant = usual ? inUtc(text) : OffsetDateTime.parse(text.toUpperCase(Locale.ROOT)).toInstant();
            return instant.isBefore(EARLIEST) || !instant.isBefore(LATEST) ? Optional.empty() : Optional.of(instant);
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }

    /** The form that most times have, digits at fixed places: an import reads millions. */
    private static boolean isWholeSecondsInUtc(String text) {
        if (text.length() != WHOLE_SECONDS_IN_UTC.length()) {
            return false;
        }
        for (int i = 0; i < WHOLE_SECONDS_IN_UTC.length(); i++) {
            char model = WHOLE_SECONDS_IN_UTC.charAt(i);
            char c = text.charAt(i);
            if (model == '0' ? c < '0' || c > '9' : c != model) {
                return false;
            }
        }
        return true;
    }

    private static Instant inUtc(String text) {
        LocalTime time = LocalTime.of(digits(text, 11), digits(text, 14), digits(text, 17));
        LocalDate date = LocalDate.of(digits(text, 0) * 100 + digits(text, 2), digits(text, 5), digits(text, 8));
        return Instant.ofEpochSecond(date.toEpochSecond(time, ZoneOffset.UTC));
    }

    private static int digits(String text, int from) {
        return 10 * (text.charAt(from) - '0') + text.charAt(from + 1) - '0';
    }
}
