package comebackledger.openapi.row;

import comebackledger.judge.CodeMemory;
import comebackledger.measure.MeterReading;
import comebackledger.trail.Duty;
import comebackledger.trail.EpisodeState;
import comebackledger.trail.LampState;
import comebackledger.trail.LastVisit;
import comebackledger.trail.LossState;
import comebackledger.trail.MetersRead;
import comebackledger.trail.NetworkFinding;
import comebackledger.trail.ProofState;
import comebackledger.trail.RepairState;
import comebackledger.trail.SeriesPoint;
import comebackledger.trail.SilenceState;
import comebackledger.trail.TrailState;
import comebackledger.trail.UnitState;
import comebackledger.visit.Stage;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeSet;

/**
 * The state of a unit as a row, field by field in the order of the records; what may be missing has a flag before it. What grows with every
 * visit stands at the end, as histories.
 */
public final class StateRow {
    private static final int FORM = 3;
    private static final Stage[] STAGES = Stage.values();
    private static final EpisodeState.Kind[] KINDS = EpisodeState.Kind.values();
    private static final EpisodeState.How[] HOWS = EpisodeState.How.values();
    private static final HistoryRow<MetersRead> METERS = new HistoryRow<>((_, read, out) -> write(read, out), (_, in) -> meters(in));
    private static final HistoryRow<SeriesPoint> SERIES = new HistoryRow<>(StateRow::write, StateRow::point);

    private StateRow() {}

    public static byte[] bytes(UnitState state) {
        RowOut out = new RowOut(FORM);
        out.flags(state.firstVisitAt().isPresent(), state.lastVisit().isPresent(), state.loss().isPresent(), state.codes().cleared());
        out.count(state.visits());
        out.time(state.firstVisitAt());
        state.lastVisit().ifPresent(last -> write(last, out));
        out.map(state.codes().seen(), count -> out.whole(count));
        out.map(state.trails(), trail -> write(trail, out));
        out.map(state.silences(), silence -> write(silence, out));
        out.map(state.findings(), finding -> write(finding, out));
        state.loss().ifPresent(loss -> write(loss, out));
        out.map(state.lamps(), lamp -> write(lamp, out));
        write(state.duty(), out);
        out.map(state.repairsDone(), count -> out.count(count));
        METERS.write(state.meters(), out);
        SERIES.write(state.series(), out);
        return out.sealed();
    }

    /** @throws java.io.UncheckedIOException if they are damaged or of another form */
    public static UnitState read(byte[] bytes) {
        return RowIn.read(bytes, FORM, in -> {
            int flags = in.flags();
            int visits = (int) in.count();
            var first = in.time(in.has(flags, 0));
            Optional<LastVisit> last = in.has(flags, 1) ? Optional.of(last(in)) : Optional.empty();
            CodeMemory codes = new CodeMemory(in.has(flags, 3), in.map(() -> (int) in.whole()));
            SortedMap<String, TrailState> trails = in.map(() -> trail(in));
            SortedMap<String, SilenceState> silences = in.map(() -> silence(in));
            SortedMap<String, NetworkFinding> findings = in.map(() -> finding(in));
            Optional<LossState> loss = in.has(flags, 2) ? Optional.of(loss(in)) : Optional.empty();
            SortedMap<String, LampState> lamps = in.map(() -> lamp(in));
            Duty duty = duty(in);
            SortedMap<String, Integer> repairsDone = in.map(() -> (int) in.count());
            return new UnitState(visits, first, last, METERS.read(in), codes, trails, silences, findings, loss, lamps, duty, repairsDone,
                    SERIES.read(in));
        });
    }

    // Meters.

    private static void write(MetersRead read, RowOut out) {
        MeterReading odometer = read.odometer();
        MeterReading hours = read.engineHours();
        out.flags(odometer.shown().isPresent(), odometer.replaced(), odometer.previous().isPresent(), hours.shown().isPresent(), hours.replaced(),
                hours.previous().isPresent());
        out.visit(read.visit());
        out.time(read.at());
        out.number(odometer.shown());
        out.number(odometer.previous());
        out.number(hours.shown());
        out.number(hours.previous());
    }

    private static MetersRead meters(RowIn in) {
        int flags = in.flags();
        String visit = in.visit();
        var at = in.time();
        return new MetersRead(new MeterReading(visit, at, in.number(in.has(flags, 0)), in.has(flags, 1), in.number(in.has(flags, 2))),
                new MeterReading(visit, at, in.number(in.has(flags, 3)), in.has(flags, 4), in.number(in.has(flags, 5))));
    }

    // Series.

    /** Its limits are mostly those of the check before. */
    private static void write(Optional<SeriesPoint> before, SeriesPoint point, RowOut out) {
        OptionalDouble low = before.map(SeriesPoint::low).orElse(OptionalDouble.empty());
        OptionalDouble high = before.map(SeriesPoint::high).orElse(OptionalDouble.empty());
        boolean limits = !point.low().equals(low) || !point.high().equals(high);
        out.flags(point.standardUncertainty().isPresent(), limits, point.low().isPresent(), point.high().isPresent());
        out.beside(before.map(SeriesPoint::series).orElse(""), point.series());
        out.time(point.at());
        out.visit(point.visit());
        out.word(point.stage());
        out.number(point.value());
        out.number(point.standardUncertainty());
        if (limits) {
            out.number(point.low());
            out.number(point.high());
        }
        out.count(point.afterRepairs());
    }

    private static SeriesPoint point(Optional<SeriesPoint> before, RowIn in) {
        int flags = in.flags();
        String name = in.beside(before.map(SeriesPoint::series).orElse(""));
        var at = in.time();
        String visit = in.visit();
        Stage stage = in.word(STAGES);
        double value = in.number();
        OptionalDouble uncertainty = in.number(in.has(flags, 0));
        boolean limits = in.has(flags, 1);
        OptionalDouble low = limits ? in.number(in.has(flags, 2)) : before.map(SeriesPoint::low).orElse(OptionalDouble.empty());
        OptionalDouble high = limits ? in.number(in.has(flags, 3)) : before.map(SeriesPoint::high).orElse(OptionalDouble.empty());
        return new SeriesPoint(name, at, visit, stage, value, uncertainty, low, high, (int) in.count());
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
