package comebackledger.api.picture;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;

/**
 * Step curves against use: each with its limits as a band, told apart by dashes, and under the axis how many are still watched. Readable in black and
 * white.
 */
final class StepPicture {
    private static final double WIDTH = 720;
    private static final double LEFT = 92;
    private static final double RIGHT = WIDTH - 34;
    private static final double TOP = 44;
    private static final double BOTTOM = 300;
    private static final double LINE = 15;
    private static final List<String> DASHES = List.of("none", "8 3", "2 3", "8 3 2 3", "14 4", "1 5");

    /** How many curves one picture can tell apart. */
    static final int CURVES_AT_MOST = DASHES.size();

    /** @param low empty where the limits are not known */
    record Step(double at, double value, OptionalDouble low, OptionalDouble high) {}

    /**
     * One curve.
     *
     * @param from its value at 0
     * @param until where watching ends
     * @param atRisk how many are still watched at an amount
     */
    record Curve(String name, double from, List<Step> steps, double until, DoubleUnaryOperator atRisk) {}

    /**
     * What the axes say.
     *
     * @param scale by which amounts are multiplied before they are shown
     */
    record Axes(String title, String description, String across, String up, double scale, boolean share, String counted) {}

    private final Axes axes;
    private final List<Curve> curves;
    private final Scale across;
    private final Scale up;
    private final Svg svg;

    private StepPicture(Axes axes, List<Curve> curves) {
        this.axes = axes;
        this.curves = curves;
        double widest = curves.stream().mapToDouble(Curve::until).max().orElse(0) * axes.scale();
        double highest = curves.stream().flatMap(curve -> curve.steps().stream()).mapToDouble(step -> step.high().orElse(step.value())).max()
                .orElse(1);
        this.across = new Scale(0, widest > 0 ? widest : 1, LEFT, RIGHT);
        this.up = new Scale(0, axes.share() ? 1 : Math.max(highest, 1e-9), BOTTOM, TOP);
        double height = BOTTOM + 62 + LINE * (curves.size() + 1);
        this.svg = new Svg(WIDTH, height, "curve", axes.title(), axes.description());
    }

    static String of(Axes axes, List<Curve> curves) {
        return new StepPicture(axes, curves).draw();
    }

    private String draw() {
        svg.element("text", axes.title(), "x", Svg.number(LEFT), "y", "16", "font-weight", "bold", "font-size", "13");
        svg.label(LEFT, TOP - 10, "start", axes.up());
        frame();
        curves.forEach(this::band);
        for (int i = 0; i < curves.size(); i++) {
            line(curves.get(i), DASHES.get(i));
        }
        counts();
        return svg.finish();
    }

    private void frame() {
        svg.line(LEFT, BOTTOM, RIGHT, BOTTOM).line(LEFT, TOP, LEFT, BOTTOM);
        for (double tick : up.ticks(5)) {
            double y = up.of(tick);
            svg.line(LEFT - 4, y, LEFT, y).line(LEFT, y, RIGHT, y, "stroke-opacity", "0.12");
            svg.label(LEFT - 8, y + 4, "end", axes.share() ? Math.round(tick * 100) + " %" : plain(tick));
        }
        for (double tick : across.ticks(6)) {
            double x = across.of(tick);
            svg.line(x, BOTTOM, x, BOTTOM + 4).label(x, BOTTOM + 17, "middle", plain(tick));
        }
        svg.label((LEFT + RIGHT) / 2, BOTTOM + 34, "middle", axes.across());
        if (curves.isEmpty()) {
            svg.label((LEFT + RIGHT) / 2, (TOP + BOTTOM) / 2, "middle", "Nothing is known to draw a curve from.");
        }
    }

    /** Between the limits, where both are known. */
    private void band(Curve curve) {
        StringBuilder there = new StringBuilder();
        StringBuilder back = new StringBuilder();
        List<Step> steps = curve.steps();
        for (int i = 0; i < steps.size(); i++) {
            Step step = steps.get(i);
            if (step.low().isPresent() && step.high().isPresent()) {
                double from = x(step.at());
                double to = x(i + 1 < steps.size() ? steps.get(i + 1).at() : curve.until());
                there.append(there.isEmpty() ? "M" : "L").append(point(from, step.high().getAsDouble())).append('L')
                        .append(point(to, step.high().getAsDouble()));
                back.insert(0, "L" + point(to, step.low().getAsDouble()) + "L" + point(from, step.low().getAsDouble()));
            }
        }
        if (!there.isEmpty()) {
            svg.empty("path", "d", there.append(back).append('Z').toString(), "fill", "#111", "fill-opacity", "0.08", "stroke", "#111",
                    "stroke-opacity", "0.35", "stroke-width", "0.7", "stroke-dasharray", "1 2");
        }
    }

    private void line(Curve curve, String dashes) {
        StringBuilder path = new StringBuilder("M" + point(x(0), curve.from()));
        double value = curve.from();
        for (Step step : curve.steps()) {
            path.append('L').append(point(x(step.at()), value)).append('L').append(point(x(step.at()), step.value()));
            value = step.value();
        }
        path.append('L').append(point(x(curve.until()), value));
        svg.empty("path", "d", path.toString(), "fill", "none", "stroke", "#111", "stroke-width", "1.8", "stroke-dasharray", dashes);
    }

    private void counts() {
        if (curves.isEmpty()) {
            return;
        }
        double y = BOTTOM + 54;
        svg.label(LEFT, y, "start", axes.counted());
        List<Double> ticks = across.ticks(6);
        for (int i = 0; i < curves.size(); i++) {
            Curve curve = curves.get(i);
            y += LINE;
            for (double tick : ticks) {
                svg.label(across.of(tick), y, "middle", Long.toString(Math.round(curve.atRisk().applyAsDouble(tick / axes.scale()))));
            }
        }
        key();
    }

    /** The names stand in the upper right corner, each with a piece of its line. */
    private void key() {
        for (int i = 0; curves.size() > 1 && i < curves.size(); i++) {
            double y = TOP + 8 + LINE * i;
            svg.line(RIGHT - 36, y, RIGHT, y, "stroke-width", "1.8", "stroke-dasharray", DASHES.get(i));
            svg.element("text", cut(curves.get(i).name()), "x", Svg.number(RIGHT - 42), "y", Svg.number(y + 4), "text-anchor", "end", "stroke",
                    "#fff",
                    "stroke-width", "3", "paint-order", "stroke");
            svg.label(4, BOTTOM + 54 + LINE * (i + 1), "start", cut(curves.get(i).name(), 13));
        }
    }

    private double x(double amount) {
        return across.of(amount * axes.scale());
    }

    private String point(double x, double value) {
        return Svg.number(x) + " " + Svg.number(up.of(Math.min(value, up.to())));
    }

    private static String cut(String name) {
        return cut(name, 40);
    }

    private static String cut(String name, int most) {
        return name.codePointCount(0, name.length()) <= most ? name : name.substring(0, name.offsetByCodePoints(0, most - 1)) + "…";
    }

    private static String plain(double value) {
        String text = value == Math.rint(value)
                ? String.format(Locale.ROOT, "%,d", Math.round(value)).replace(',', ' ')
                : String.format(Locale.ROOT, "%.3f", value).replaceAll("0+$", "");
        return text.endsWith(".") ? text.substring(0, text.length() - 1) : text;
    }

    /** An amount with its thousands apart, for words. */
    static Optional<String> rounded(OptionalDouble amount, double scale) {
        return amount.isPresent() ? Optional.of(plain(Math.rint(amount.getAsDouble() * scale))) : Optional.empty();
    }
}
