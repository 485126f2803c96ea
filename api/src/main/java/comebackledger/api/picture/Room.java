package comebackledger.api.picture;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The room for text in a picture: what is taken, and where a text still fits. */
final class Room {
    /** How wide a letter is, and how high, at the size of a label. */
    private static final double LETTER = 6.8;
    private static final double HEIGHT = 11;
    /** Text may reach this far over the frame. */
    private static final double OVER = 12;

    private final double left;
    private final double right;
    private final double top;
    private final double bottom;
    private final List<Box> taken = new ArrayList<>();

    Room(double left, double right, double top, double bottom) {
        this.left = left;
        this.right = right;
        this.top = top;
        this.bottom = bottom;
    }

    /** Where a text could stand. @param y of its base line; @param anchor as SVG names it */
    record Spot(double x, double y, String anchor) {}

    private record Box(double left, double top, double right, double bottom) {
        boolean meets(Box other) {
            return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
        }
    }

    /** Takes the room of a mark. */
    void take(double x, double y, double half) {
        taken.add(new Box(x - half, y - half, x + half, y + half));
    }

    /** Takes the first spot that is free, if one is. */
    Optional<Spot> place(String text, List<Spot> spots) {
        for (Spot spot : spots) {
            Box box = box(text, spot);
            boolean inside = box.left >= left && box.right <= right + OVER && box.top >= top && box.bottom <= bottom;
            if (inside && taken.stream().noneMatch(box::meets)) {
                taken.add(box);
                return Optional.of(spot);
            }
        }
        return Optional.empty();
    }

    /** As much of a text as fits a width in pixels, at the size of a label. */
    static String fitting(String text, double pixels) {
        double width = 0;
        for (int i = 0; i < text.length(); i = text.offsetByCodePoints(i, 1)) {
            width += width(text.codePointAt(i));
            if (width > pixels) {
                return text.substring(0, text.offsetByCodePoints(i, i == 0 ? 0 : -1)) + "\u2026";
            }
        }
        return text;
    }

    /** Of one letter in the usual sans-serif faces, on the wide side. */
    private static double width(int letter) {
        if (letter > 0x2FF) {
            return 2 * LETTER;
        }
        return switch (letter) {
            case 'i', 'j', 'l', 't', 'f', 'r', 'I', ' ', '.', ',', ':', ';', '(', ')', '-' -> 0.62 * LETTER;
            case 'm', 'w', 'M', 'W', '@', '%' -> 1.55 * LETTER;
            default -> letter >= 'A' && letter <= 'Z' ? 1.25 * LETTER : LETTER;
        };
    }

    private static Box box(String text, Spot spot) {
        double width = LETTER * text.length();
        double from = switch (spot.anchor()) {
            case "middle" -> spot.x() - width / 2;
            case "end" -> spot.x() - width;
            default -> spot.x();
        };
        return new Box(from, spot.y() - HEIGHT + 1, from + width, spot.y() + 1);
    }
}
