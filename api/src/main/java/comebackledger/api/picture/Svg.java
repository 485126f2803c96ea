package comebackledger.api.picture;

import java.util.Locale;

/** Writes one SVG picture; every attribute and text is escaped, and what XML cannot hold is left out. */
public final class Svg {
    private final StringBuilder text = new StringBuilder();

    /** @param id tells this picture from others on one page */
    public Svg(double width, double height, String id, String title, String description) {
        open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 " + number(width) + " " + number(height), "width", number(width), "height",
                number(height), "role", "img", "aria-labelledby", id + "-title " + id + "-desc", "font-family", "sans-serif", "font-size", "12",
                "fill",
                "#111");
        element("title", title, "id", id + "-title");
        element("desc", description, "id", id + "-desc");
        empty("rect", "width", number(width), "height", number(height), "fill", "#fff");
    }

    /** @param attributes names and values by turns */
    public Svg open(String name, String... attributes) {
        return tag(name, attributes, ">\n");
    }

    public Svg close(String name) {
        text.append("</").append(name).append(">\n");
        return this;
    }

    public Svg empty(String name, String... attributes) {
        return tag(name, attributes, "/>\n");
    }

    public Svg element(String name, String content, String... attributes) {
        tag(name, attributes, ">");
        text.append(escaped(content)).append("</").append(name).append(">\n");
        return this;
    }

    public Svg line(double x1, double y1, double x2, double y2, String... attributes) {
        String[] all = new String[attributes.length + 10];
        String[] own = {"x1", number(x1), "y1", number(y1), "x2", number(x2), "y2", number(y2), "stroke", "#111"};
        System.arraycopy(own, 0, all, 0, own.length);
        System.arraycopy(attributes, 0, all, own.length, attributes.length);
        return empty("line", all);
    }

    public Svg label(double x, double y, String anchor, String words) {
        return element("text", words, "x", number(x), "y", number(y), "text-anchor", anchor);
    }

    /** The finished picture. */
    public String finish() {
        return text + "</svg>\n";
    }

    private Svg tag(String name, String[] attributes, String end) {
        text.append('<').append(name);
        for (int i = 0; i < attributes.length; i += 2) {
            text.append(' ').append(attributes[i]).append("=\"").append(escaped(attributes[i + 1])).append('"');
        }
        text.append(end);
        return this;
    }

    /** To a hundredth of a pixel. */
    public static String number(double value) {
        String plain = String.format(Locale.ROOT, "%.2f", value);
        return plain.endsWith(".00") ? plain.substring(0, plain.length() - 3) : plain;
    }

    private static String escaped(String raw) {
        StringBuilder safe = new StringBuilder(raw.length());
        raw.codePoints().filter(Svg::isXml).forEach(point -> {
            switch (point) {
                case '&' -> safe.append("&amp;");
                case '<' -> safe.append("&lt;");
                case '>' -> safe.append("&gt;");
                case '"' -> safe.append("&quot;");
                case '\'' -> safe.append("&#39;");
                default -> safe.appendCodePoint(point);
            }
        });
        return safe.toString();
    }

    /** XML 1.0, production 2. */
    private static boolean isXml(int point) {
        return point == '\t' || point == '\n' || point == '\r' || point >= 0x20 && point <= 0xD7FF || point >= 0xE000 && point <= 0xFFFD
                || point >= 0x10000;
    }
}
