package comebackledger.api.picture;

import comebackledger.briefing.ReadingSeries;
import comebackledger.briefing.ReadingSeries.Mark;
import comebackledger.briefing.ReadingSeries.Point;
import comebackledger.visit.Stage;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;

/**
 * One series over the days: readings as found (dots) and as left (squares) against the limits (broken lines), with the repairs between them. A reading
 * far beyond the rest stands at the edge as an arrow with its value.
 */
public final class ReadingPicture {
    private static final double WIDTH = 640;
    private static final double HEIGHT = 260;
    private static final double LEFT = 56;
    private static final double RIGHT = WIDTH - 16;
    private static final double TOP = 44;
    private static final double BOTTOM = HEIGHT - 44;
    private static final double FAR = 1.5;
    private static final double SIGNIFICANT = 0.05;
    private static final int LABELLED_AT_MOST = 14;
    private static final int TOLD_AT_MOST = 20;
    private static final int LETTERS_OF_A_MARK = 26;
    private static final long HALF_MONTH_S = 15 * 86_400L;

    private final ReadingSeries series;
    private final Shown shown;
    private final String reading;
    private final Svg svg;
    private final Scale days;
    private final Scale values;

    private ReadingPicture(ReadingSeries series, Shown shown, String unit, String id) {
        this.series = series;
        this.shown = shown;
        this.reading = series.reading();
        this.svg = new Svg(WIDTH, HEIGHT, id, Shown.name(series.series()) + ", unit " + unit, description());
        this.days = days();
        this.values = values();
    }

    /** @param id tells this picture from others on one page */
    public static String of(ReadingSeries series, Shown shown, String unit, String id) {
        return new ReadingPicture(series, shown, unit, id).draw();
    }

    private double value(Point point) {
        return shown.value(reading, point.value());
    }

    private OptionalDouble limit(OptionalDouble limit) {
        return limit.isPresent() ? OptionalDouble.of(shown.value(reading, limit.getAsDouble())) : limit;
    }

    // Scales.

    private Scale days() {
        List<Long> seconds = Stream.concat(series.points().stream().map(Point::at), series.repairs().stream().map(Mark::at))
                .map(Instant::getEpochSecond).sorted().toList();
        long first = seconds.getFirst();
        long last = seconds.getLast();
        return first == last
                ? new Scale(first - HALF_MONTH_S, last + HALF_MONTH_S, LEFT + 20, RIGHT - 20)
                : new Scale(first, last, LEFT + 20, RIGHT - 20);
    }

    private Scale values() {
        double[] limits = DoubleStream.concat(limit(series.low()).stream(), limit(series.high()).stream()).toArray();
        double usual = limits.length > 0
                ? DoubleStream.of(limits).max().orElse(1)
                : series.points().stream().mapToDouble(this::value).sorted().skip((series.points().size() - 1) / 2).findFirst().orElse(1);
        double cut = cut(FAR * usual);
        double[] near = DoubleStream.concat(DoubleStream.of(limits), series.points().stream().mapToDouble(this::value).filter(value -> value <= cut))
                .toArray();
        double low = DoubleStream.of(near).min().orElse(0);
        double high = DoubleStream.of(near).max().orElse(FAR * usual);
        boolean far = series.points().stream().mapToDouble(this::value).anyMatch(value -> value > cut);
        double room = Math.max((high - low) * 0.15, Math.max(Math.abs(high) * 0.05, 1e-6));
        return new Scale(Math.max(0, low - room), high + (far ? 2 : 1) * room, BOTTOM, TOP);
    }

    /** Where the scale ends for the few that lie far off; never, where they are the most. */
    private double cut(double far) {
        long beyond = series.points().stream().filter(point -> value(point) > far).count();
        return 2 * beyond < series.points().size() ? far : Double.MAX_VALUE;
    }

    // Drawing.

    private String draw() {
        axes();
        limit("low limit", limit(series.low()), 12);
        limit("high limit", limit(series.high()), -5);
        trend();
        for (int i = 0; i < series.repairs().size(); i++) {
            mark(series.repairs().get(i), i);
        }
        boolean labelled = series.points().size() <= LABELLED_AT_MOST;
        series.points().forEach(point -> point(point, labelled));
        legend();
        return svg.finish();
    }

    private void axes() {
        svg.line(LEFT, BOTTOM, RIGHT, BOTTOM).line(LEFT, TOP, LEFT, BOTTOM);
        for (double tick : values.ticks(5)) {
            double y = values.of(tick);
            svg.line(LEFT - 4, y, LEFT, y).label(LEFT - 7, y + 4, "end", Shown.plain(tick));
        }
        svg.label(4, TOP - 8, "start", shown.unit(reading));
        boolean oneDay = day(series.points().getFirst().at()).equals(day(series.points().getLast().at())) && series.repairs().isEmpty();
        int steps = oneDay ? 2 : 4;
        for (int i = oneDay ? 1 : 0; i <= (oneDay ? 1 : steps); i++) {
            double at = days.from() + (days.to() - days.from()) * i / steps;
            double x = days.of(at);
            svg.line(x, BOTTOM, x, BOTTOM + 4).label(x, BOTTOM + 16, "middle", day(Instant.ofEpochSecond(Math.round(at))));
        }
    }

    private void limit(String name, OptionalDouble limit, double dy) {
        limit.ifPresent(value -> {
            double y = values.of(value);
            svg.line(LEFT, y, RIGHT, y, "stroke-dasharray", "7 4").label(RIGHT, y + dy, "end", name + " " + Shown.plain(value));
        });
    }

    /** Only a trend that chance does not explain. */
    private void trend() {
        List<Point> counted = series.points().stream().filter(Point::counts).toList();
        if (series.trend().undefined().isPresent() || series.trend().pValue() > SIGNIFICANT || counted.size() < 2) {
            return;
        }
        Point first = counted.getFirst();
        Point last = counted.getLast();
        svg.line(days.of(first.at().getEpochSecond()), values.of(line(first)), days.of(last.at().getEpochSecond()), values.of(line(last)),
                "stroke-width",
                "1.5", "stroke-dasharray", "2 3");
    }

    private double line(Point point) {
        double at = series.axis() == ReadingSeries.Axis.KM
                ? point.km().orElse(0)
                : (point.at().getEpochSecond() - series.origin().orElse(point.at()).getEpochSecond()) / 86_400.0;
        return shown.value(reading, series.trend().intercept() + series.trend().slope() * at);
    }

    private void mark(Mark mark, int index) {
        double x = days.of(mark.at().getEpochSecond());
        double y = 11 + 11 * (index % 3);
        svg.open("g").element("title", words(mark))
                .line(x, y + 2, x, BOTTOM, "stroke-dasharray", "1 3")
                .empty("path", "d", "M" + Svg.number(x - 4) + " " + Svg.number(BOTTOM) + "h8l-4 -8z")
                .label(x > WIDTH / 2 ? x - 3 : x + 3, y, x > WIDTH / 2 ? "end" : "start", cut(last(mark.place()) + " " + mark.action()))
                .close("g");
    }

    private static String last(String place) {
        return place.substring(place.lastIndexOf('.') + 1);
    }

    private static String cut(String text) {
        return text.length() <= LETTERS_OF_A_MARK ? text : text.substring(0, LETTERS_OF_A_MARK - 1) + "\u2026";
    }

    private void point(Point point, boolean labelled) {
        double x = days.of(point.at().getEpochSecond());
        boolean far = value(point) > values.to();
        double y = far ? TOP + 4 : values.of(value(point));
        svg.open("g").element("title", words(point));
        if (far) {
            svg.empty("path", "d", "M" + Svg.number(x - 5) + " " + Svg.number(y + 8) + "h10l-5 -10z");
        } else if (point.stage() == Stage.AS_FOUND) {
            svg.empty("circle", "cx", Svg.number(x), "cy", Svg.number(y), "r", "4");
        } else {
            svg.empty("rect", "x", Svg.number(x - 4), "y", Svg.number(y - 4), "width", "8", "height", "8", "fill", "#fff", "stroke", "#111",
                    "stroke-width", "1.5");
        }
        if (labelled || far || isOutside(point)) {
            boolean right = x > WIDTH - 90;
            svg.element("text", Shown.plain(value(point)), "x", Svg.number(right ? x - 8 : x + 8), "y", Svg.number(y + 4), "text-anchor",
                    right ? "end" : "start", "font-weight", isOutside(point) ? "bold" : "normal", "stroke", "#fff", "stroke-width", "3",
                    "paint-order",
                    "stroke");
        }
        svg.close("g");
    }

    private boolean isOutside(Point point) {
        return series.high().isPresent() && point.value() > series.high().getAsDouble()
                || series.low().isPresent() && point.value() < series.low().getAsDouble();
    }

    private void legend() {
        double y = HEIGHT - 9;
        svg.empty("circle", "cx", Svg.number(LEFT + 4), "cy", Svg.number(y - 4), "r", "4").label(LEFT + 12, y, "start", "as found");
        svg.empty("rect", "x", Svg.number(LEFT + 76), "y", Svg.number(y - 8), "width", "8", "height", "8", "fill", "#fff", "stroke", "#111",
                "stroke-width", "1.5").label(LEFT + 88, y, "start", "as left");
        svg.empty("path", "d", "M" + Svg.number(LEFT + 144) + " " + Svg.number(y) + "h8l-4 -8z").label(LEFT + 156, y, "start", "repair");
        svg.label(LEFT + 208, y, "start", "bold: outside its limit");
    }

    // In words.

    private static String day(Instant at) {
        return at.atZone(ZoneOffset.UTC).toLocalDate().toString();
    }

    private String words(Point point) {
        return shown.reading(reading, point.value()) + " " + point.stage().word().replace('-', ' ') + " on " + day(point.at()) + " (" + point.visit()
                + ")" + (isOutside(point) ? ", outside its limit" : "");
    }

    private static String words(Mark mark) {
        return last(mark.place()) + " " + mark.action() + " on " + day(mark.at()) + " (" + mark.visit() + ")";
    }

    private String description() {
        int count = series.points().size();
        String limits = Stream.of(series.low().isPresent() ? "low limit " + shown.reading(reading, series.low().getAsDouble()) : "",
                series.high().isPresent() ? "high limit " + shown.reading(reading, series.high().getAsDouble()) : "").filter(one -> !one.isEmpty())
                .collect(Collectors.joining(", "));
        String points = series.points().subList(Math.max(0, count - TOLD_AT_MOST), count).stream().map(this::words).collect(Collectors.joining("; "));
        String repairs = series.repairs().stream().skip(Math.max(0, series.repairs().size() - TOLD_AT_MOST)).map(ReadingPicture::words)
                .collect(Collectors.joining("; "));
        return String.format(Locale.ROOT, "%d %s%s: %s.%s", count, count == 1 ? "reading" : "readings", limits.isEmpty() ? "" : ", " + limits, points,
                repairs.isEmpty() ? "" : " Repairs: " + repairs + ".");
    }
}
