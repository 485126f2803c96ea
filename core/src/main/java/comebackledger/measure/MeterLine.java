package comebackledger.measure;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The life total of one meter over the visits of a unit, with its gaps.
 *
 * <p>A replaced meter starts a new segment. The totals run on across a replacement only where the visit gave both what the old meter showed
 * last and what the new one shows; otherwise the stretch is a gap and differences across it are unknown, never zero.
 *
 * <p>Where readings of one segment contradict each other (falling, or rising faster than a vehicle can), the fewest are left out that make the
 * rest agree: the longest chain of agreeing readings is kept, the earlier readings where two chains are as long.
 */
public final class MeterLine {
    private static final double SECONDS_PER_DAY = 86_400;

    /** One kept reading on one unbroken piece. */
    private record Total(int piece, double value, Instant at) {}

    /** A reading within one segment, before it is known to be kept. */
    private record Point(MeterReading source, double value, boolean ending) {}

    /** What the meter of a visit showed, and where it was replaced there, what the old one showed last. */
    private final Map<String, Total> shown = new HashMap<>();
    private final Map<String, Total> ended = new HashMap<>();
    private final List<String> leftOut = new ArrayList<>();
    private Optional<Total> last = Optional.empty();
    private final List<Total> inOrder = new ArrayList<>();

    /**
     * @param readings in the order of the visits
     * @param mostPerDay beyond it two readings contradict each other: 2 500 km or 24 h
     */
    public MeterLine(List<MeterReading> readings, double mostPerDay) {
        int piece = 0;
        double offset = 0;
        List<Point> segment = new ArrayList<>();
        for (MeterReading reading : readings) {
            if (reading.replaced()) {
                reading.previous().ifPresent(previous -> segment.add(new Point(reading, previous, true)));
                Optional<Total> end = keep(segment, mostPerDay, piece, offset);
                boolean bridged = reading.previous().isPresent() && reading.shown().isPresent() && end.isPresent()
                        && end.get().equals(ended.get(reading.visit()));
                piece += bridged ? 0 : 1;
                offset = bridged ? end.get().value() - reading.shown().getAsDouble() : 0;
                segment.clear();
            }
            reading.shown().ifPresent(shown -> segment.add(new Point(reading, shown, false)));
        }
        keep(segment, mostPerDay, piece, offset);
    }

    /** Keeps the longest agreeing chain of a segment; answers its last total. */
    private Optional<Total> keep(List<Point> segment, double mostPerDay, int piece, double offset) {
        boolean[] kept = longestChain(segment, mostPerDay);
        Optional<Total> end = Optional.empty();
        for (int i = 0; i < segment.size(); i++) {
            Point point = segment.get(i);
            if (!kept[i]) {
                leftOut.add(point.source().visit());
                continue;
            }
            Total total = new Total(piece, point.value() + offset, point.source().at());
            (point.ending() ? ended : shown).put(point.source().visit(), total);
            inOrder.add(total);
            last = Optional.of(total);
            end = Optional.of(total);
        }
        return end;
    }

    private static boolean[] longestChain(List<Point> segment, double mostPerDay) {
        int n = segment.size();
        boolean[] kept = new boolean[n];
        int[] before = new int[n];
        // By the length of the longest chain that ends there, the earlier first: nearly always one reading to a length, and the first look decides.
        List<List<Integer>> ends = new ArrayList<>(n);
        for (int i = 0; i < n; i++) {
            before[i] = -1;
            int length = ends.size();
            while (length > 0 && before[i] < 0) {
                length--;
                for (int end : ends.get(length)) {
                    if (agree(segment.get(end), segment.get(i), mostPerDay)) {
                        before[i] = end;
                        break;
                    }
                }
            }
            int own = before[i] < 0 ? 0 : length + 1;
            if (own == ends.size()) {
                ends.add(new ArrayList<>(1));
            }
            ends.get(own).add(i);
        }
        for (int i = ends.isEmpty() ? -1 : ends.getLast().getFirst(); i >= 0; i = before[i]) {
            kept[i] = true;
        }
        return kept;
    }

    private static boolean agree(Point earlier, Point later, double mostPerDay) {
        double days = Math.max(1, Duration.between(earlier.source().at(), later.source().at()).toMillis() / 1000.0 / SECONDS_PER_DAY);
        double rise = later.value() - earlier.value();
        return rise >= 0 && rise <= mostPerDay * days;
    }

    /** Readings that contradict the rest, by visit; they count in no distance. */
    public List<String> leftOut() {
        return Collections.unmodifiableList(leftOut);
    }

    /** The difference between two visits; empty where either is unknown or a gap lies between. */
    public OptionalDouble between(String earlierVisit, String laterVisit) {
        return between(shown, ended, earlierVisit, laterVisit).or(() -> between(shown, shown, earlierVisit, laterVisit))
                .or(() -> between(ended, ended, earlierVisit, laterVisit)).or(() -> between(ended, shown, earlierVisit, laterVisit))
                .map(OptionalDouble::of).orElse(OptionalDouble.empty());
    }

    private static Optional<Double> between(Map<String, Total> earlier, Map<String, Total> later, String earlierVisit, String laterVisit) {
        Optional<Total> from = Optional.ofNullable(earlier.get(earlierVisit));
        Optional<Total> to = Optional.ofNullable(later.get(laterVisit));
        return from.isPresent() && to.isPresent() && from.get().piece() == to.get().piece()
                ? Optional.of(to.get().value() - from.get().value())
                : Optional.empty();
    }

    private Optional<Total> last(String visit) {
        return Optional.ofNullable(shown.get(visit)).or(() -> Optional.ofNullable(ended.get(visit)));
    }

    /** The life total at a visit, counted from the piece it belongs to. */
    public OptionalDouble at(String visit) {
        Optional<Total> found = last(visit);
        return found.isPresent() ? OptionalDouble.of(found.get().value()) : OptionalDouble.empty();
    }

    /** The unbroken piece that a visit's total belongs to, from 0; -1 where the visit has none. */
    public int piece(String visit) {
        return last(visit).map(Total::piece).orElse(-1);
    }

    /** All that is known to have been covered from the first to the last kept reading: the gaps count nothing. Empty with under two readings. */
    public OptionalDouble covered() {
        if (inOrder.size() < 2) {
            return OptionalDouble.empty();
        }
        double sum = 0;
        boolean any = false;
        for (int i = 1; i < inOrder.size(); i++) {
            if (inOrder.get(i).piece() == inOrder.get(i - 1).piece()) {
                sum += inOrder.get(i).value() - inOrder.get(i - 1).value();
                any = true;
            }
        }
        return any ? OptionalDouble.of(sum) : OptionalDouble.empty();
    }

    public Optional<Instant> lastAt() {
        return last.map(Total::at);
    }

    /**
     * Usage per day over the newest stretch of at least {@code days}, within the last unbroken piece; empty with under two readings in it or no
     * time between them.
     */
    public OptionalDouble perDay(double days) {
        if (last.isEmpty()) {
            return OptionalDouble.empty();
        }
        Total end = last.get();
        for (int i = inOrder.size() - 1; i >= 0; i--) {
            Total start = inOrder.get(i);
            if (start.piece() != end.piece()) {
                break;
            }
            double span = daysBetween(start.at(), end.at());
            boolean oldest = i == 0 || inOrder.get(i - 1).piece() != end.piece();
            if (span >= days || oldest && span > 0) {
                return OptionalDouble.of((end.value() - start.value()) / span);
            }
        }
        return OptionalDouble.empty();
    }

    /** Days of 24 h. */
    public static double daysBetween(Instant earlier, Instant later) {
        Duration between = Duration.between(earlier, later);
        return (between.getSeconds() + between.getNano() * 1e-9) / SECONDS_PER_DAY;
    }
}
