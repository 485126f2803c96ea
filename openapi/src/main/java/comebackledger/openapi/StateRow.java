package comebackledger.openapi;

import comebackledger.judge.CodeMemory;
import comebackledger.measure.MeterReading;
import comebackledger.trail.Duty;
import comebackledger.trail.EpisodeState;
import comebackledger.trail.LampState;
import comebackledger.trail.LastVisit;
import comebackledger.trail.LossState;
import comebackledger.trail.NetworkFinding;
import comebackledger.trail.ProofState;
import comebackledger.trail.RepairState;
import comebackledger.trail.SeriesPoint;
import comebackledger.trail.SilenceState;
import comebackledger.trail.TrailState;
import comebackledger.trail.UnitState;
import comebackledger.visit.Stage;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeSet;

/**
 * The state of a unit as a row, field by field in the order of the records; what may be missing has a flag before it. The lists that grow with every visit
 * hold each entry beside the one before it: a unit with a long history is read and written whole at every visit.
 */
final class StateRow {
    private static final int FORM = 2;
    private static final Stage[] STAGES = Stage.values();
    private static final EpisodeState.Kind[] KINDS = EpisodeState.Kind.values();
    private static final EpisodeState.How[] HOWS = EpisodeState.How.values();
    /** In the flags of an hour-meter reading: as the odometer's of the same visit, so many after the last such. */
    private static final int OWN_VISIT = 0;

    private StateRow() {}

    static byte[] bytes(UnitState state) {
        RowOut out = new RowOut(FORM);
        out.flags(state.firstVisitAt().isPresent(), state.lastVisit().isPresent(), state.loss().isPresent(), state.codes().cleared());
        out.count(state.visits());
        out.time(state.firstVisitAt());
        state.lastVisit().ifPresent(last -> write(last, out));
        out.list(state.odometer(), reading -> {
            meter(reading, out);
            out.visit(reading.visit());
            out.time(reading.at());
        });
        hours(state.engineHours(), state.odometer(), out);
        out.map(state.codes().seen(), count -> out.whole(count));
        out.map(state.trails(), trail -> write(trail, out));
        out.map(state.silences(), silence -> write(silence, out));
        out.map(state.findings(), finding -> write(finding, out));
        state.loss().ifPresent(loss -> write(loss, out));
        out.map(state.lamps(), lamp -> write(lamp, out));
        write(state.duty(), out);
        out.map(state.repairsDone(), count -> out.count(count));
        series(state.series(), out);
        return out.sealed();
    }

    static UnitState read(byte[] bytes) {
        return RowIn.read(bytes, FORM, in -> {
            int flags = in.flags();
            int visits = (int) in.count();
            var first = in.time(in.has(flags, 0));
            Optional<LastVisit> last = in.has(flags, 1) ? Optional.of(last(in)) : Optional.empty();
            List<MeterReading> odometer = in.list(() -> {
                int shown = in.flags();
                OptionalDouble number = in.number(in.has(shown, 0));
                OptionalDouble previous = in.number(in.has(shown, 2));
                return new MeterReading(in.visit(), in.time(), number, in.has(shown, 1), previous);
            });
            return new UnitState(visits, first, last, odometer, hours(odometer, in), new CodeMemory(in.has(flags, 3), in.map(() -> (int) in.whole())),
                    in.map(() -> trail(in)), in.map(() -> silence(in)), in.map(() -> finding(in)),
                    in.has(flags, 2) ? Optional.of(loss(in)) : Optional.empty(), in.map(() -> lamp(in)), duty(in), in.map(() -> (int) in.count()),
                    series(in));
        });
    }

    // Meters.

    private static void meter(MeterReading reading, RowOut out) {
        out.flags(reading.shown().isPresent(), reading.replaced(), reading.previous().isPresent());
        out.number(reading.shown());
        out.number(reading.previous());
    }

    /** Most visits read both meters. */
    private static void hours(List<MeterReading> hours, List<MeterReading> odometer, RowOut out) {
        out.count(hours.size());
        int next = 0;
        for (MeterReading reading : hours) {
            meter(reading, out);
            int same = next;
            while (same < odometer.size() && odometer.get(same).at().isBefore(reading.at())) {
                same++;
            }
            if (same < odometer.size() && odometer.get(same).at().equals(reading.at()) && odometer.get(same).visit().equals(reading.visit())) {
                out.count(1 + same - next);
                next = same + 1;
            } else {
                out.count(OWN_VISIT);
                out.visit(reading.visit());
                out.time(reading.at());
            }
        }
    }

    private static List<MeterReading> hours(List<MeterReading> odometer, RowIn in) {
        int[] next = {0};
        return in.list(() -> {
            int shown = in.flags();
            OptionalDouble number = in.number(in.has(shown, 0));
            OptionalDouble previous = in.number(in.has(shown, 2));
            int skipped = (int) in.count();
            if (skipped == OWN_VISIT) {
                return new MeterReading(in.visit(), in.time(), number, in.has(shown, 1), previous);
            }
            MeterReading same = odometer.get(next[0] + skipped - 1);
            next[0] += skipped;
            return new MeterReading(same.visit(), same.at(), number, in.has(shown, 1), previous);
        });
    }

    // Series.

    /** The limits of a check are mostly those of the check before. */
    private static void series(List<SeriesPoint> series, RowOut out) {
        out.count(series.size());
        String name = "";
        OptionalDouble low = OptionalDouble.empty();
        OptionalDouble high = OptionalDouble.empty();
        for (SeriesPoint point : series) {
            boolean limits = !point.low().equals(low) || !point.high().equals(high);
            out.flags(point.standardUncertainty().isPresent(), limits, point.low().isPresent(), point.high().isPresent());
            name = out.beside(name, point.series());
            out.time(point.at());
            out.visit(point.visit());
            out.word(point.stage());
            out.number(point.value());
            out.number(point.standardUncertainty());
            if (limits) {
                low = point.low();
                high = point.high();
                out.number(low);
                out.number(high);
            }
            out.count(point.afterRepairs());
        }
    }

    private static List<SeriesPoint> series(RowIn in) {
        List<SeriesPoint> read = new ArrayList<>();
        return in.list(() -> {
            int flags = in.flags();
            Optional<SeriesPoint> before = read.isEmpty() ? Optional.empty() : Optional.of(read.removeLast());
            String name = in.beside(before.map(SeriesPoint::series).orElse(""));
            var at = in.time();
            String visit = in.visit();
            Stage stage = in.word(STAGES);
            double value = in.number();
            OptionalDouble uncertainty = in.number(in.has(flags, 0));
            boolean limits = in.has(flags, 1);
            OptionalDouble low = limits ? in.number(in.has(flags, 2)) : before.map(SeriesPoint::low).orElse(OptionalDouble.empty());
            OptionalDouble high = limits ? in.number(in.has(flags, 3)) : before.map(SeriesPoint::high).orElse(OptionalDouble.empty());
            SeriesPoint point = new SeriesPoint(name, at, visit, stage, value, uncertainty, low, high, (int) in.count());
            read.add(point);
            return point;
        });
    }

    // Trails.

    private static void write(TrailState trail, RowOut out) {
        out.place(trail.place());
        out.list(trail.episodes(), episode -> write(episode, out));
        out.list(trail.repairs(), repair -> write(repair, out));
        out.list(trail.proofs(), proof -> {
            out.visit(proof.visit());
            out.time(proof.at());
            out.texts(proof.evidence());
        });
    }

    private static TrailState trail(RowIn in) {
        return new TrailState(in.place(), in.list(() -> episode(in)), in.list(() -> repair(in)),
                in.list(() -> new ProofState(in.visit(), in.time(), in.texts())));
    }

    private static void write(EpisodeState episode, RowOut out) {
        out.flags(episode.inferred(), episode.ending().isPresent(), episode.ending().flatMap(EpisodeState.Ending::by).isPresent());
        out.visit(episode.openedBy());
        out.time(episode.openedAt());
        out.visit(episode.lastSignBy());
        out.time(episode.lastSignAt());
        out.word(episode.kind());
        out.texts(episode.convictions());
        out.texts(episode.accusedPlaces());
        out.list(episode.failedAtBench(), out::visit);
        episode.ending().ifPresent(ending -> {
            out.word(ending.how());
            out.time(ending.at());
            ending.by().ifPresent(out::visit);
        });
    }

    private static EpisodeState episode(RowIn in) {
        int flags = in.flags();
        return new EpisodeState(in.visit(), in.time(), in.visit(), in.time(), in.word(KINDS), new TreeSet<>(in.texts()), in.has(flags, 0),
                in.texts(), in.list(in::visit),
                in.has(flags, 1)
                        ? Optional
                                .of(new EpisodeState.Ending(in.word(HOWS), in.time(), in.has(flags, 2) ? Optional.of(in.visit()) : Optional.empty()))
                        : Optional.empty());
    }

    private static void write(RepairState repair, RowOut out) {
        out.flags(repair.cause().isPresent(), repair.claimsFixed(), repair.closedEpisode(), repair.holds());
        out.visit(repair.visit());
        out.time(repair.at());
        out.text(repair.action());
        out.text(repair.cause());
    }

    private static RepairState repair(RowIn in) {
        int flags = in.flags();
        return new RepairState(in.visit(), in.time(), in.text(), in.text(in.has(flags, 0)), in.has(flags, 1), in.has(flags, 2), in.has(flags, 3));
    }

    // The rest.

    private static void write(LastVisit last, RowOut out) {
        out.flags(last.releasedAt().isPresent());
        out.visit(last.visit());
        out.time(last.arrivedAt());
        out.time(last.releasedAt());
    }

    private static LastVisit last(RowIn in) {
        int flags = in.flags();
        return new LastVisit(in.visit(), in.time(), in.time(in.has(flags, 0)));
    }

    private static void write(SilenceState silence, RowOut out) {
        out.flags(silence.repairedSince(), silence.claimedSince());
        out.text(silence.network());
        out.text(silence.module());
        out.visit(silence.visit());
        out.time(silence.at());
    }

    private static SilenceState silence(RowIn in) {
        int flags = in.flags();
        return new SilenceState(in.text(), in.text(), in.visit(), in.time(), in.has(flags, 0), in.has(flags, 1));
    }

    private static void write(NetworkFinding finding, RowOut out) {
        out.visit(finding.visit());
        out.time(finding.at());
        out.map(finding.faultOdds(), out::number);
    }

    private static NetworkFinding finding(RowIn in) {
        return new NetworkFinding(in.visit(), in.time(), in.map(in::number));
    }

    private static void write(LossState loss, RowOut out) {
        out.flags(loss.repairedSince(), loss.claimedSince());
        out.visit(loss.visit());
        out.time(loss.at());
        out.number(loss.shareOfEngineAir());
    }

    private static LossState loss(RowIn in) {
        int flags = in.flags();
        return new LossState(in.visit(), in.time(), in.number(), in.has(flags, 0), in.has(flags, 1));
    }

    private static void write(LampState lamp, RowOut out) {
        out.flags(lamp.on());
        out.visit(lamp.visit());
        out.time(lamp.at());
    }

    private static LampState lamp(RowIn in) {
        int flags = in.flags();
        return new LampState(in.has(flags, 0), in.visit(), in.time());
    }

    private static void write(Duty duty, RowOut out) {
        out.flags(duty.outOfServiceBy().isPresent(), duty.outOfServiceAt().isPresent(), duty.defectBy().isPresent(), duty.defectAt().isPresent());
        out.text(duty.outOfServiceBy());
        out.time(duty.outOfServiceAt());
        out.text(duty.defectBy());
        out.time(duty.defectAt());
    }

    private static Duty duty(RowIn in) {
        int flags = in.flags();
        return new Duty(in.text(in.has(flags, 0)), in.time(in.has(flags, 1)), in.text(in.has(flags, 2)), in.time(in.has(flags, 3)));
    }
}
