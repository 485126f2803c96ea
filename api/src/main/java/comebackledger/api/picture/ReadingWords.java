package comebackledger.api.picture;

import comebackledger.briefing.ReadingSeries;
import comebackledger.briefing.ReadingSeries.Axis;
import comebackledger.briefing.ReadingSeries.Mark;
import comebackledger.briefing.ReadingSeries.Point;
import comebackledger.stat.ReadingTrend;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** What a picture of readings says in words: for those who do not see it, and for what no line shows. */
final class ReadingWords {
    private static final int TOLD_AT_MOST = 20;
    private static final int READINGS_OF_A_TREND = 4;
    /** One-sided, as the drifting flag tests it. */
    private static final double SIGNIFICANT = 0.05;
    /** A crossing further off says nothing to plan by. */
    private static final double FURTHEST_DAYS = 3650;
    private static final double FURTHEST_KM = 1e6;

    private final ReadingSeries series;
    private final Shown shown;

    ReadingWords(ReadingSeries series, Shown shown) {
        this.series = series;
        this.shown = shown;
    }

    static String day(Instant at) {
        return at.atZone(ZoneOffset.UTC).toLocalDate().toString();
    }

    boolean isOutside(Point point) {
        return series.high().isPresent() && point.value() > series.high().getAsDouble()
                || series.low().isPresent() && point.value() < series.low().getAsDouble();
    }

    String of(Point point) {
        return shown.reading(series.reading(), point.value()) + " " + point.stage().word().replace('-', ' ') + " on " + day(point.at()) + " ("
                + point.visit() + ")" + (isOutside(point) ? ", outside its limit" : "");
    }

    static String of(Mark mark) {
        return mark.place().substring(mark.place().lastIndexOf('.') + 1) + " " + mark.action() + " on " + day(mark.at()) + " (" + mark.visit() + ")";
    }

    /** Whether chance does not explain the trend of the readings since the last repair. */
    boolean trendIsTold() {
        long counted = series.points().stream().filter(Point::counts).count();
        return counted >= READINGS_OF_A_TREND && series.trend().undefined().isEmpty() && series.trend().pValue() / 2 <= SIGNIFICANT;
    }

    /** Where a reading stands on the trend's axis: the life total in km, or days since the first that counts. */
    double at(Point point) {
        return series.axis() == Axis.KM
                ? point.km().orElse(0)
                : Duration.between(series.origin().orElse(point.at()), point.at()).toSeconds() / 86_400.0;
    }

    /** Where the line meets its limit, with the ends of the band. */
    Optional<String> crossing() {
        return series.crossing().filter(_ -> trendIsTold()).flatMap(met -> axis(met.at()).map(at -> "Meets its limit of "
                + shown.reading(series.reading(), met.limit()) + " at " + at + band(met)));
    }

    private String band(ReadingTrend.Crossing met) {
        Optional<String> early = axis(met.earliest());
        Optional<String> late = axis(met.latest());
        return early.isPresent() ? " (" + early.get() + late.map(end -> " to " + end).orElse(" or later") + ")" : "";
    }

    private Optional<String> axis(OptionalDouble at) {
        return at.isPresent() ? axis(at.getAsDouble()) : Optional.empty();
    }

    private Optional<String> axis(double at) {
        Point last = series.points().getLast();
        double ahead = at - at(last);
        if (series.axis() == Axis.KM) {
            return ahead > FURTHEST_KM ? Optional.empty() : Optional.of(shown.distance(at));
        }
        return ahead > FURTHEST_DAYS
                ? Optional.empty()
                : series.origin().map(origin -> day(origin.plusSeconds(Math.round(at * 86_400))));
    }

    String description() {
        int count = series.points().size();
        String limits = Stream.of(series.low().isPresent() ? "low limit " + shown.reading(series.reading(), series.low().getAsDouble()) : "",
                series.high().isPresent() ? "high limit " + shown.reading(series.reading(), series.high().getAsDouble()) : "")
                .filter(one -> !one.isEmpty()).collect(Collectors.joining(", "));
        List<Point> told = series.points().subList(Math.max(0, count - TOLD_AT_MOST), count);
        String points = told.stream().map(this::of).collect(Collectors.joining("; "));
        String repairs = series.repairs().stream().skip(Math.max(0, series.repairs().size() - TOLD_AT_MOST)).map(ReadingWords::of)
                .collect(Collectors.joining("; "));
        String newest = told.size() < count ? ", the newest " + told.size() : "";
        return String.format(Locale.ROOT, "%d %s%s%s: %s.%s%s", count, count == 1 ? "reading" : "readings",
                limits.isEmpty() ? "" : ", " + limits, newest, points, repairs.isEmpty() ? "" : " Repairs: " + repairs + ".",
                crossing().map(text -> " " + text + ".").orElse(""));
    }
}
