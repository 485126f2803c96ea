package comebackledger.trail;

import comebackledger.Require;
import comebackledger.measure.MeterEnd;
import comebackledger.measure.MeterLine;
import comebackledger.measure.MeterReading;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The known life totals of one meter of a unit, one a visit, in order. Totals of different pieces do not subtract. Kept as columns: a fleet's answer reads
 * every unit's.
 */
public final class Totals {
    public static final Totals NONE = new Totals(new long[0], new double[0], new int[0], Optional.empty());

    private static final long NANOS = 1_000_000_000L;
    private static final double SECONDS_PER_DAY = 86_400;

    private final int size;
    private final long[] atNanos;
    private final double[] totals;
    private final int[] pieces;
    private final Optional<MeterEnd> end;

    /**
     * @param atNanos nanoseconds since 1970, which fit from 1678 to 2262; the arrays are handed over
     * @param end of the meter's line
     */
    public Totals(long[] atNanos, double[] totals, int[] pieces, Optional<MeterEnd> end) {
        this(atNanos.length, atNanos, totals, pieces, end);
        Require.that(totals.length == size && pieces.length == size, "columns must be of one length, were %s, %s and %s", size, totals.length,
                pieces.length);
    }

    private Totals(int size, long[] atNanos, double[] totals, int[] pieces, Optional<MeterEnd> end) {
        this.size = size;
        this.end = end;
        this.atNanos = atNanos;
        this.totals = totals;
        this.pieces = pieces;
    }

    static Totals km(List<UnitSummary.Metered> visits, Optional<MeterEnd> end) {
        return of(visits, UnitSummary.Metered::km, UnitSummary.Metered::kmPiece, end);
    }

    static Totals engineHours(List<UnitSummary.Metered> visits, Optional<MeterEnd> end) {
        return of(visits, UnitSummary.Metered::engineHours, UnitSummary.Metered::hoursPiece, end);
    }

    private interface Total {
        OptionalDouble of(UnitSummary.Metered visit);
    }

    private interface Piece {
        int of(UnitSummary.Metered visit);
    }

    private static Totals of(List<UnitSummary.Metered> visits, Total total, Piece piece, Optional<MeterEnd> end) {
        List<UnitSummary.Metered> known = visits.stream().filter(visit -> total.of(visit).isPresent()).toList();
        return new Totals(
                known.stream().mapToLong(visit -> Math.addExact(Math.multiplyExact(visit.at().getEpochSecond(), NANOS), visit.at().getNano()))
                        .toArray(),
                known.stream().mapToDouble(visit -> total.of(visit).orElseThrow()).toArray(), known.stream().mapToInt(piece::of).toArray(),
                end);
    }

    /**
     * With what the meter showed at one visit more, at a later instant than all of these. Empty where that does not leave the earlier totals as they are,
     * or may not.
     */
    Optional<Totals> runOn(MeterReading reading, double mostPerDay) {
        if (reading.shown().isEmpty() && !reading.replaced()) {
            return Optional.of(this);
        }
        return end.flatMap(newest -> MeterLine.runOn(newest, reading, mostPerDay)).map(newest -> {
            long[] longerAt = Arrays.copyOf(atNanos, size + 1);
            double[] longerTotals = Arrays.copyOf(totals, size + 1);
            int[] longerPieces = Arrays.copyOf(pieces, size + 1);
            longerAt[size] = nanos(newest.at());
            longerTotals[size] = newest.shown() + newest.offset();
            longerPieces[size] = newest.piece();
            return new Totals(longerAt, longerTotals, longerPieces, Optional.of(newest));
        });
    }

    /** Of the meter's line; empty where none is known. */
    public Optional<MeterEnd> end() {
        return end;
    }

    public int size() {
        return size;
    }

    public boolean isEmpty() {
        return size == 0;
    }

    public int last() {
        return size - 1;
    }

    public Instant at(int i) {
        return Instant.ofEpochSecond(Math.floorDiv(atNanos[i], NANOS), Math.floorMod(atNanos[i], NANOS));
    }

    /** Whether the same visits read another meter. */
    public boolean sameInstants(Totals other) {
        return Arrays.equals(atNanos, 0, size, other.atNanos, 0, other.size);
    }

    /** In the meter's unit: km or h. */
    public double total(int i) {
        return totals[i];
    }

    public int piece(int i) {
        return pieces[i];
    }

    /** Whether each is a whole number that a double tells from its neighbours. */
    public boolean areWhole() {
        for (int i = 0; i < size; i++) {
            if (!(Math.abs(totals[i]) < 0x1p52) || Double.doubleToRawLongBits(totals[i]) != Double.doubleToRawLongBits((long) totals[i])) {
                return false;
            }
        }
        return true;
    }

    /** Whether the total and the one before it lie on one piece; the first joins nothing. */
    public boolean joins(int i) {
        return i > 0 && pieces[i] == pieces[i - 1];
    }

    /** Those that are known by an instant. */
    public Totals until(Instant at) {
        long most = nanos(at);
        int known = size;
        while (known > 0 && atNanos[known - 1] > most) {
            known--;
        }
        return known == size ? this : new Totals(known, atNanos, totals, pieces, Optional.empty());
    }

    public boolean goesBeyond(Instant at) {
        return size > 0 && isAfter(size - 1, at);
    }

    public boolean isAfter(int i, Instant at) {
        return atNanos[i] > nanos(at);
    }

    /** Days of 24 h between two of them, as {@link MeterLine#daysBetween}. */
    public double daysBetween(int earlier, int later) {
        long nanos = atNanos[later] - atNanos[earlier];
        return (Math.floorDiv(nanos, NANOS) + Math.floorMod(nanos, NANOS) * 1e-9) / SECONDS_PER_DAY;
    }

    public double daysUntil(int i, Instant later) {
        return MeterLine.daysBetween(at(i), later);
    }

    /** Since 1970; beyond what fits, the end of it: evidence is from 1900 to 2200. */
    public static long nanos(Instant at) {
        long seconds = at.getEpochSecond();
        if (seconds >= Long.MAX_VALUE / NANOS || seconds <= Long.MIN_VALUE / NANOS) {
            return seconds > 0 ? Long.MAX_VALUE : Long.MIN_VALUE;
        }
        return seconds * NANOS + at.getNano();
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Totals totalsOfOther && Arrays.equals(atNanos, 0, size, totalsOfOther.atNanos, 0, totalsOfOther.size)
                && Arrays.equals(totals, 0, size, totalsOfOther.totals, 0, totalsOfOther.size)
                && Arrays.equals(pieces, 0, size, totalsOfOther.pieces, 0, totalsOfOther.size) && end.equals(totalsOfOther.end);
    }

    @Override
    public int hashCode() {
        return 31 * Arrays.hashCode(Arrays.copyOf(atNanos, size)) + Arrays.hashCode(Arrays.copyOf(totals, size));
    }

    @Override
    public String toString() {
        return "Totals" + Arrays.toString(Arrays.copyOf(totals, size));
    }
}
