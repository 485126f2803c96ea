package comebackledger.openapi.row;

import comebackledger.measure.MeterEnd;
import comebackledger.trail.Totals;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitSummary.Mended;
import comebackledger.trail.UnitSummary.Opened;
import java.util.Arrays;
import java.util.Optional;

/**
 * What fleet answers read of a unit as a row: every question reads that of each unit. Fields in the order of the records; what may be missing has a flag
 * before it, a place stands beside its system, and the hour meter beside the odometer where the same visits read both.
 */
public final class SummaryRow {
    private static final int FORM = 2;

    private SummaryRow() {}

    public static byte[] bytes(UnitSummary row) {
        RowOut out = new RowOut(FORM);
        boolean sameVisits = row.km().sameInstants(row.engineHours());
        out.flags(row.group().isPresent(), row.inServiceAt().isPresent(), row.retiredAt().isPresent(), row.firstVisitAt().isPresent(),
                row.lastVisitAt().isPresent(), sameVisits);
        out.text(row.unit());
        out.text(row.group());
        out.map(row.tags(), out::text);
        out.time(row.inServiceAt());
        out.time(row.retiredAt());
        out.time(row.firstVisitAt());
        out.time(row.lastVisitAt());
        out.count(row.meteredVisits());
        times(row.km(), out);
        totals(row.km(), out);
        if (!sameVisits) {
            times(row.engineHours(), out);
        }
        totals(row.engineHours(), out);
        out.list(row.episodes(), episode -> write(episode, out));
        out.list(row.repairs(), repair -> write(repair, out));
        return out.sealed();
    }

    /** @throws java.io.UncheckedIOException if they are damaged or of another form */
    public static UnitSummary read(byte[] bytes) {
        return RowIn.read(bytes, FORM, in -> {
            int flags = in.flags();
            String unit = in.text();
            var group = in.text(in.has(flags, 0));
            var tags = in.map(in::text);
            var inServiceAt = in.time(in.has(flags, 1));
            var retiredAt = in.time(in.has(flags, 2));
            var firstVisitAt = in.time(in.has(flags, 3));
            var lastVisitAt = in.time(in.has(flags, 4));
            int meteredVisits = (int) in.count();
            long[] kmAt = times(in);
            Totals km = totals(kmAt, in);
            Totals engineHours = totals(in.has(flags, 5) ? kmAt : times(in), in);
            return new UnitSummary(unit, group, tags, inServiceAt, retiredAt, firstVisitAt, lastVisitAt, meteredVisits, km, engineHours,
                    in.list(() -> episode(in)), in.list(() -> repair(in)));
        });
    }

    // Meters.

    private static void times(Totals totals, RowOut out) {
        out.count(totals.size());
        for (int i = 0; i < totals.size(); i++) {
            out.time(totals.at(i));
        }
    }

    private static long[] times(RowIn in) {
        long[] nanos = new long[in.size()];
        for (int i = 0; i < nanos.length; i++) {
            nanos[i] = Totals.nanos(in.time());
        }
        return nanos;
    }

    /** The totals, where all are whole as differences; then the pieces: how far each runs, and its number. */
    private static void totals(Totals totals, RowOut out) {
        boolean whole = totals.areWhole();
        boolean asShown = totals.end().equals(asShown(totals));
        out.flags(whole, asShown, totals.end().isPresent());
        for (int i = 0; i < totals.size(); i++) {
            if (whole) {
                out.whole((long) totals.total(i) - (i == 0 ? 0 : (long) totals.total(i - 1)));
            } else {
                out.number(totals.total(i));
            }
        }
        int from = 0;
        while (from < totals.size()) {
            int to = from + 1;
            while (to < totals.size() && totals.joins(to)) {
                to++;
            }
            out.count(to - from);
            out.whole(totals.piece(from));
            from = to;
        }
        if (!asShown) {
            totals.end().ifPresent(end -> write(end, out));
        }
    }

    /** Where a meter's line mostly ends: at the newest total, which is what the meter shows. */
    private static Optional<MeterEnd> asShown(Totals totals) {
        int last = totals.last();
        return totals.isEmpty() ? Optional.empty() : Optional.of(new MeterEnd(totals.piece(last), 0, totals.total(last), totals.at(last)));
    }

    private static void write(MeterEnd end, RowOut out) {
        out.whole(end.piece());
        out.number(end.offset());
        out.number(end.shown());
        out.time(end.at());
    }

    private static MeterEnd end(RowIn in) {
        return new MeterEnd(Math.toIntExact(in.whole()), in.number(), in.number(), in.time());
    }

    private static Totals totals(long[] at, RowIn in) {
        int flags = in.flags();
        boolean whole = in.has(flags, 0);
        double[] totals = new double[at.length];
        long sum = 0;
        for (int i = 0; i < totals.length; i++) {
            sum += whole ? in.whole() : 0;
            totals[i] = whole ? sum : in.number();
        }
        int[] pieces = new int[at.length];
        int from = 0;
        while (from < pieces.length) {
            int to = Math.addExact(from, Math.toIntExact(in.count()));
            Arrays.fill(pieces, from, to, Math.toIntExact(in.whole()));
            from = to;
        }
        if (!in.has(flags, 1)) {
            return new Totals(at, totals, pieces, in.has(flags, 2) ? Optional.of(end(in)) : Optional.empty());
        }
        Totals read = new Totals(at, totals, pieces, Optional.empty());
        return new Totals(at, totals, pieces, asShown(read));
    }

    // Episodes and repairs.

    private static void write(Opened episode, RowOut out) {
        out.flags(episode.confirmed(), episode.noFaultFound(), episode.comeback(), episode.moving());
        out.flags(episode.endedAt().isPresent(), episode.kmAt().isPresent(), episode.engineHoursAt().isPresent());
        out.system(episode.system());
        out.beside(episode.system(), episode.place());
        out.visit(episode.openedBy());
        out.time(episode.openedAt());
        out.time(episode.endedAt());
        out.number(episode.kmAt());
        out.number(episode.engineHoursAt());
    }

    private static Opened episode(RowIn in) {
        int is = in.flags();
        int has = in.flags();
        String system = in.system();
        return new Opened(system, in.beside(system), in.visit(), in.time(), in.time(in.has(has, 0)), in.has(is, 0), in.has(is, 1), in.has(is, 2),
                in.has(is, 3), in.number(in.has(has, 1)), in.number(in.has(has, 2)));
    }

    private static void write(Mended repair, RowOut out) {
        out.flags(repair.closedEpisode(), repair.cause().isPresent(), repair.nextEpisodeAt().isPresent(), repair.nextRepairAt().isPresent());
        out.flags(repair.kmAt().isPresent(), repair.engineHoursAt().isPresent(), repair.kmToEpisode().isPresent(),
                repair.engineHoursToEpisode().isPresent(), repair.kmToRepair().isPresent(), repair.engineHoursToRepair().isPresent());
        out.system(repair.system());
        out.beside(repair.system(), repair.place());
        out.visit(repair.visit());
        out.time(repair.at());
        out.text(repair.action());
        out.text(repair.cause());
        out.number(repair.kmAt());
        out.number(repair.engineHoursAt());
        out.time(repair.nextEpisodeAt());
        out.number(repair.kmToEpisode());
        out.number(repair.engineHoursToEpisode());
        out.time(repair.nextRepairAt());
        out.number(repair.kmToRepair());
        out.number(repair.engineHoursToRepair());
    }

    private static Mended repair(RowIn in) {
        int is = in.flags();
        int has = in.flags();
        String system = in.system();
        return new Mended(system, in.beside(system), in.visit(), in.time(), in.text(), in.text(in.has(is, 1)), in.has(is, 0),
                in.number(in.has(has, 0)),
                in.number(in.has(has, 1)), in.time(in.has(is, 2)), in.number(in.has(has, 2)), in.number(in.has(has, 3)), in.time(in.has(is, 3)),
                in.number(in.has(has, 4)), in.number(in.has(has, 5)));
    }
}
