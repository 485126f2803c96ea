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
import org.jspecify.annotations.Nullable;

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

    /** A line that is asked for few visits, as most are, is looked through from its end; a longer one is indexed when it is first asked. */
    private static final int LOOKED_THROUGH = 24;

    /** One kept reading on one unbroken piece; where the meter was replaced, what the old one showed last is {@code ending}. */
    private record Total(String visit, boolean ending, int piece, double value, Instant at) {}

    /** A reading within one segment, before it is known to be kept. */
    private record Point(MeterReading source, double value, boolean ending) {}

    /** What the meter of a visit showed, and where it was replaced there, what the old one showed last. */
    private record Index(Map<String, Total> shown, Map<String, Total> ended) {}

    private final List<String> leftOut = new ArrayList<>();
    private final List<Total> inOrder;
    private final @Nullable MeterEnd end;
    private @Nullable Index index;

    /**
     * @param readings in the order of the visits
     * @param mostPerDay beyond it two readings contradict each other: 2 500 km or 24 h
     */
    public MeterLine(List<MeterReading> readings, double mostPerDay) {
        inOrder = new ArrayList<>(readings.size());
        int piece = 0;
        double offset = 0;
        List<Point> segment = new ArrayList<>(readings.size());
        for (MeterReading reading : readings) {
            if (reading.replaced()) {
                reading.previous().ifPresent(previous -> segment.add(new Point(reading, previous, true)));
                int before = inOrder.size();
                keep(segment, mostPerDay, piece, offset);
                Total end = inOrder.size() == before ? null : inOrder.getLast();
                if (reading.shown().isPresent() && end != null && end.ending() && end.visit().equals(reading.visit())) {
                    offset = end.value() - reading.shown().getAsDouble();
                } else {
                    piece++;
                    offset = 0;
                }
                segment.clear();
            }
            reading.shown().ifPresent(shown -> segment.add(new Point(reading, shown, false)));
        }
        Point newest = keep(segment, mostPerDay, piece, offset);
        end = newest == null ? null : new MeterEnd(piece, offset, newest.value(), newest.source().at());
    }

    /** Keeps the longest agreeing chain of a segment. @return the newest that is kept, if any is */
    private @Nullable Point keep(List<Point> segment, double mostPerDay, int piece, double offset) {
        Point newest = null;
        boolean all = allAgree(segment, mostPerDay);
        boolean[] kept = all ? new boolean[0] : longestChain(segment, mostPerDay);
        for (int i = 0; i < segment.size(); i++) {
            Point point = segment.get(i);
            if (all || kept[i]) {
                inOrder.add(new Total(point.source().visit(), point.ending(), piece, point.value() + offset, point.source().at()));
                newest = point;
            } else {
                leftOut.add(point.source().visit());
            }
        }
        return newest;
    }

    /** Each with the one before it, as nearly always: then all of them are the longest chain. */
    private static boolean allAgree(List<Point> segment, double mostPerDay) {
        for (int i = 1; i < segment.size(); i++) {
            if (!agree(segment.get(i - 1), segment.get(i), mostPerDay)) {
                return false;
            }
        }
        return true;
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
        return agree(later.value() - earlier.value(), earlier.source().at(), later.source().at(), mostPerDay);
    }

    private static boolean agree(double rise, Instant earlier, Instant later, double mostPerDay) {
        if (rise < 0 || rise <= mostPerDay) {
            return rise >= 0; // a day at least is always allowed for
        }
        double days = Math.max(1, Duration.between(earlier, later).toMillis() / 1000.0 / SECONDS_PER_DAY);
        return rise <= mostPerDay * days;
    }

    /** The newest kept reading; empty where none was kept since the meter was last replaced. */
    public Optional<MeterEnd> end() {
        return Optional.ofNullable(end);
    }

    /**
     * Where a line ends after one reading more that agrees with its end: it keeps that one and whatever it kept before, since the chain that was the
     * longest is so with one reading more. Empty where the line has to be drawn again, because the reading disagrees or the meter was replaced.
     *
     * @param shown by a visit after all of the line
     */
    public static Optional<MeterEnd> runOn(MeterEnd end, MeterReading shown, double mostPerDay) {
        return shown.replaced() || shown.shown().isEmpty() || !agree(shown.shown().getAsDouble() - end.shown(), end.at(), shown.at(), mostPerDay)
                ? Optional.empty()
                : Optional.of(new MeterEnd(end.piece(), end.offset(), shown.shown().getAsDouble(), shown.at()));
    }

    /** Readings that contradict the rest, by visit; they count in no distance. */
    public List<String> leftOut() {
        return Collections.unmodifiableList(leftOut);
    }

    /** The difference between two visits; empty where either is unknown or a gap lies between. */
    public OptionalDouble between(String earlierVisit, String laterVisit) {
        Total endedEarlier = find(earlierVisit, true);
        Total shownEarlier = find(earlierVisit, false);
        Total endedLater = find(laterVisit, true);
        Total shownLater = find(laterVisit, false);
        OptionalDouble afterReplaced = between(shownEarlier, endedLater);
        if (afterReplaced.isPresent()) {
            return afterReplaced;
        }
        OptionalDouble usual = between(shownEarlier, shownLater);
        if (usual.isPresent()) {
            return usual;
        }
        OptionalDouble oldMeters = between(endedEarlier, endedLater);
        return oldMeters.isPresent() ? oldMeters : between(endedEarlier, shownLater);
    }

    private static OptionalDouble between(@Nullable Total from, @Nullable Total to) {
        return from != null && to != null && from.piece() == to.piece() ? OptionalDouble.of(to.value() - from.value()) : OptionalDouble.empty();
    }

    private @Nullable Total find(String visit, boolean ending) {
        if (inOrder.size() > LOOKED_THROUGH) {
            Index known = index();
            return (ending ? known.ended : known.shown).get(visit);
        }
        for (int i = inOrder.size() - 1; i >= 0; i--) {
            Total total = inOrder.get(i);
            if (total.ending() == ending && total.visit().equals(visit)) {
                return total;
            }
        }
        return null;
    }

    /** Two threads that ask at once make it twice, and alike. */
    private Index index() {
        Index known = index;
        if (known == null) {
            known = new Index(HashMap.newHashMap(inOrder.size()), new HashMap<>());
            for (Total total : inOrder) {
                (total.ending() ? known.ended : known.shown).put(total.visit(), total);
            }
            index = known;
        }
        return known;
    }

    private @Nullable Total last(String visit) {
        Total total = find(visit, false);
        return total != null ? total : find(visit, true);
    }

    /** The life total at a visit, counted from the piece it belongs to. */
    public OptionalDouble at(String visit) {
        Total found = last(visit);
        return found != null ? OptionalDouble.of(found.value()) : OptionalDouble.empty();
    }

    /** The unbroken piece that a visit's total belongs to, from 0; -1 where the visit has none. */
    public int piece(String visit) {
        Total found = last(visit);
        return found != null ? found.piece() : -1;
    }

    /** The line asked for one visit after another in the order of their arrival, so that none has to be looked up. */
    public final class Walk {
        private int next;
        private @Nullable Total found;

        private Walk() {}

        public Walk to(Instant arrivedAt, String visit) {
            while (next < inOrder.size() && inOrder.get(next).at().isBefore(arrivedAt)) {
                next++;
            }
            found = null;
            for (int i = next; i < inOrder.size() && inOrder.get(i).at().equals(arrivedAt); i++) {
                Total total = inOrder.get(i);
                if (total.visit().equals(visit) && (found == null || found.ending())) {
                    found = total;
                }
            }
            return this;
        }

        /** As {@link MeterLine#at}. */
        public OptionalDouble total() {
            return found != null ? OptionalDouble.of(found.value()) : OptionalDouble.empty();
        }

        /** As {@link MeterLine#piece}. */
        public int piece() {
            return found != null ? found.piece() : -1;
        }
    }

    public Walk walk() {
        return new Walk();
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
        return inOrder.isEmpty() ? Optional.empty() : Optional.of(inOrder.getLast().at());
    }

    /**
     * Usage per day over the newest stretch of at least {@code days}, within the last unbroken piece; empty with under two readings in it or no
     * time between them.
     */
    public OptionalDouble perDay(double days) {
        if (inOrder.isEmpty()) {
            return OptionalDouble.empty();
        }
        Total end = inOrder.getLast();
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
