package comebackledger.api.picture;

import comebackledger.briefing.ReadingSeries;
import comebackledger.briefing.ReadingSeries.Mark;
import comebackledger.briefing.ReadingSeries.Point;
import comebackledger.stat.ReadingTrend;
import comebackledger.visit.Stage;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;

/**
 * One series over the days: readings as found (dots) and as left (squares) against the limits (broken lines), the repairs between them numbered and named
 * below, and the robust line with its band where chance does not explain it. A reading far beyond the rest stands at the edge as an arrow with its value.
 */
public final class ReadingPicture {
    private static final double WIDTH = 400;
    private static final double LEFT = 46;
    private static final double RIGHT = WIDTH - 14;
    private static final double TOP = 44;
    private static final double BOTTOM = 176;
    private static final double LEGEND = BOTTOM + 36;
    private static final double LINE = 15;
    private static final double FAR = 1.5;
    private static final double MARK = 4;
    private static final int LABELLED_AT_MOST = 14;
    private static final int REPAIRS_NAMED = 4;
    /** Bold letters are wider: so much less of a line fits. */
    private static final double BOLD = 0.92;
    private static final int DATES = 3;
    private static final long HALF_MONTH_S = 15 * 86_400L;

    private final ReadingSeries series;
    private final Shown shown;
    private final String reading;
    private final ReadingWords words;
    private final Svg svg;
    private final Scale days;
    private final Scale values;
    private final Room room = new Room(LEFT, RIGHT, TOP, BOTTOM);
    private final List<Mark> named;

    private ReadingPicture(ReadingSeries series, Shown shown, String unit, String id) {
        this.series = series;
        this.shown = shown;
        this.reading = series.reading();
        this.words = new ReadingWords(series, shown);
        this.named = series.repairs().subList(Math.max(0, series.repairs().size() - REPAIRS_NAMED), series.repairs().size());
        this.svg = new Svg(WIDTH, LEGEND + 8 + LINE * notes().size(), id, Shown.name(series.series()) + ", unit " + unit, words.description());
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
                ? new Scale(first - HALF_MONTH_S, last + HALF_MONTH_S, LEFT + 12, RIGHT - 12)
                : new Scale(first, last, LEFT + 12, RIGHT - 12);
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
        double edge = Math.max((high - low) * 0.2, Math.max(Math.abs(high) * 0.05, 1e-6));
        return new Scale(Math.max(0, low - edge), high + (far ? 2 : 1) * edge, BOTTOM, TOP);
    }

    /** Where the scale ends for the few that lie far off; never, where they are the most. */
    private double cut(double far) {
        long beyond = series.points().stream().filter(point -> value(point) > far).count();
        return 2 * beyond < series.points().size() ? far : Double.MAX_VALUE;
    }

    // Drawing.

    private String draw() {
        svg.element("text", Room.fitting(Shown.name(series.series()), BOLD * (WIDTH - 8)), "x", "4", "y", "13", "font-weight", "bold");
        axes();
        trend();
        marks();
        series.points().forEach(point -> room.take(days.of(point.at().getEpochSecond()), height(point), MARK));
        limit("high limit ", limit(series.high()), -5);
        limit("low limit ", limit(series.low()), 12);
        series.points().forEach(this::point);
        values(labelled());
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
        boolean oneDay = ReadingWords.day(series.points().getFirst().at()).equals(ReadingWords.day(series.points().getLast().at()))
                && series.repairs().isEmpty();
        for (int i = 0; i < (oneDay ? 1 : DATES); i++) {
            double share = oneDay ? 0.5 : (double) i / (DATES - 1);
            double at = days.from() + (days.to() - days.from()) * share;
            double x = days.of(at);
            svg.line(x, BOTTOM, x, BOTTOM + 4).label(Math.min(x, RIGHT - 26), BOTTOM + 17, "middle",
                    ReadingWords.day(Instant.ofEpochSecond(Math.round(at))));
        }
    }

    /** Named at the left end, where the oldest readings stand; beside them where one is in the way. */
    private void limit(String name, OptionalDouble limit, double dy) {
        limit.ifPresent(value -> {
            double y = values.of(value);
            String text = name + Shown.plain(value);
            svg.line(LEFT, y, RIGHT, y, "stroke-dasharray", "7 4");
            room.place(text, List.of(new Room.Spot(LEFT + 6, y + dy, "start"), new Room.Spot(RIGHT - 2, y + dy, "end"),
                    new Room.Spot((LEFT + RIGHT) / 2, y + dy, "middle"))).or(() -> Optional.of(new Room.Spot(LEFT + 6, y + dy, "start")))
                    .ifPresent(spot -> halo(text, spot, "normal"));
        });
    }

    /** Only a trend that chance does not explain: the line, and the band of the lines through the middle with the limits of the slope. */
    private void trend() {
        if (!words.trendIsTold()) {
            return;
        }
        List<Point> counted = series.points().stream().filter(Point::counts).sorted(Comparator.comparing(Point::at)).toList();
        ReadingTrend trend = series.trend();
        if (trend.slopeLow().isPresent() && trend.slopeHigh().isPresent()) {
            StringBuilder path = new StringBuilder();
            counted.forEach(point -> path.append(path.isEmpty() ? "M" : "L").append(place(point, edge(point, true))));
            counted.reversed().forEach(point -> path.append('L').append(place(point, edge(point, false))));
            svg.empty("path", "d", path.append('Z').toString(), "fill", "#111", "fill-opacity", "0.1", "stroke", "#111", "stroke-opacity", "0.4",
                    "stroke-width", "0.7", "stroke-dasharray", "1 2");
        }
        StringBuilder line = new StringBuilder();
        counted.forEach(point -> line.append(line.isEmpty() ? "M" : "L").append(place(point, trend.intercept() + trend.slope() * words.at(point))));
        svg.empty("path", "d", line.toString(), "fill", "none", "stroke", "#111", "stroke-width", "1.5", "stroke-dasharray", "2 3");
    }

    private double edge(Point point, boolean upper) {
        ReadingTrend trend = series.trend();
        double off = words.at(point) - trend.middleAt();
        double one = trend.slopeLow().orElseThrow() * off;
        double other = trend.slopeHigh().orElseThrow() * off;
        return trend.intercept() + trend.slope() * trend.middleAt() + (upper ? Math.max(one, other) : Math.min(one, other));
    }

    private String place(Point point, double value) {
        double y = Math.clamp(values.of(shown.value(reading, value)), TOP, BOTTOM);
        return Svg.number(days.of(point.at().getEpochSecond())) + " " + Svg.number(y);
    }

    /** Repairs under the axis as triangles; those named in the notes carry their number, in two rows where they stand close. */
    private void marks() {
        double last = -WIDTH;
        int row = 0;
        for (Mark mark : series.repairs()) {
            double x = days.of(mark.at().getEpochSecond());
            svg.open("g").element("title", ReadingWords.of(mark)).line(x, TOP - 4, x, BOTTOM, "stroke-dasharray", "1 3").empty("path", "d",
                    "M" + Svg.number(x - 4) + " " + Svg.number(BOTTOM) + "h8l-4 -8z");
            int number = named.indexOf(mark) + 1;
            if (number > 0) {
                row = x - last < 12 ? (row + 1) % 2 : 0;
                last = x;
                svg.label(x, TOP - 7 - 11 * row, "middle", Integer.toString(number));
            }
            svg.close("g");
        }
    }

    private boolean isFar(Point point) {
        return value(point) > values.to();
    }

    private double height(Point point) {
        return isFar(point) ? TOP + 7 : values.of(value(point));
    }

    private void point(Point point) {
        double x = days.of(point.at().getEpochSecond());
        double y = height(point);
        svg.open("g").element("title", words.of(point));
        if (isFar(point)) {
            svg.empty("path", "d", "M" + Svg.number(x - 5) + " " + Svg.number(y + 5) + "h10l-5 -10z", "fill", "#fff",
                    "stroke", "#111", "stroke-width", "1.5");
        } else if (point.stage() == Stage.AS_FOUND) {
            svg.empty("circle", "cx", Svg.number(x), "cy", Svg.number(y), "r", Svg.number(MARK));
        } else {
            square(x, y);
        }
        svg.close("g");
    }

    private void square(double x, double y) {
        svg.empty("rect", "x", Svg.number(x - MARK), "y", Svg.number(y - MARK), "width", "8", "height", "8", "fill", "#fff", "stroke", "#111",
                "stroke-width", "1.5");
    }

    /** The newest first, then those outside their limit, then the rest where there are few: where room is short, those go without their value. */
    private List<Point> labelled() {
        List<Point> order = new ArrayList<>(series.points().reversed());
        order.sort(Comparator.comparing((Point point) -> point != series.points().getLast()).thenComparing(point -> !isTold(point)));
        return series.points().size() <= LABELLED_AT_MOST ? order : order.stream().filter(this::isTold).toList();
    }

    private boolean isTold(Point point) {
        return point == series.points().getLast() || isFar(point) || words.isOutside(point);
    }

    private void values(List<Point> points) {
        for (Point point : points) {
            double x = days.of(point.at().getEpochSecond());
            double y = height(point);
            String text = Shown.plain(value(point));
            room.place(text, List.of(new Room.Spot(x, y - 8, "middle"), new Room.Spot(x, y + 16, "middle"), new Room.Spot(x + 7, y + 4, "start"),
                    new Room.Spot(x - 7, y + 4, "end"))).ifPresent(spot -> halo(text, spot, words.isOutside(point) ? "bold" : "normal"));
        }
    }

    /** Text that lines do not cut. */
    private void halo(String text, Room.Spot spot, String weight) {
        svg.element("text", text, "x", Svg.number(spot.x()), "y", Svg.number(spot.y()), "text-anchor", spot.anchor(), "font-weight", weight, "stroke",
                "#fff", "stroke-width", "3", "paint-order", "stroke");
    }

    private void legend() {
        double y = LEGEND;
        svg.empty("circle", "cx", Svg.number(LEFT + 4), "cy", Svg.number(y - 4), "r", Svg.number(MARK)).label(LEFT + 12, y, "start", "as found");
        square(LEFT + 80, y - 4);
        svg.label(LEFT + 88, y, "start", "as left");
        svg.empty("path", "d", "M" + Svg.number(LEFT + 144) + " " + Svg.number(y) + "h8l-4 -8z").label(LEFT + 156, y, "start", "repair");
        svg.label(LEFT + 206, y, "start", "bold: outside limit");
        List<String> notes = notes();
        for (int i = 0; i < notes.size(); i++) {
            svg.label(4, LEGEND + LINE * (i + 1) + 2, "start", Room.fitting(notes.get(i), WIDTH - 8));
        }
    }

    private List<String> notes() {
        List<String> notes = new ArrayList<>();
        for (int i = 0; i < named.size(); i++) {
            notes.add((i + 1) + " " + ReadingWords.of(named.get(i)));
        }
        if (words.trendIsTold()) {
            notes.add("Dotted: trend since the last repair" + (series.trend().slopeLow().isPresent() && series.trend().slopeHigh().isPresent()
                    ? ", with its 95 % band"
                    : "; too few readings for a band"));
            words.crossing().ifPresent(notes::add);
        }
        return List.copyOf(notes);
    }
}
