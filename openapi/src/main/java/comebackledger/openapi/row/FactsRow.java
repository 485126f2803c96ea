package comebackledger.openapi.row;

import comebackledger.code.CodeKind;
import comebackledger.judge.AirFact;
import comebackledger.judge.BusFact;
import comebackledger.judge.CodeFact;
import comebackledger.judge.LampFact;
import comebackledger.judge.RepairFact;
import comebackledger.judge.SupplyFact;
import comebackledger.judge.SuspectFact;
import comebackledger.judge.Verdict;
import comebackledger.judge.VisitFacts;
import comebackledger.measure.Measured;
import comebackledger.measure.MeterReading;
import comebackledger.visit.AirMethod;
import comebackledger.visit.CodeStatus;
import comebackledger.visit.RepairAction;
import comebackledger.visit.Stage;
import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.OptionalInt;

/** The facts of a visit as a row, field by field in the order of the records; what may be missing has a flag before it. */
public final class FactsRow {
    private static final int FORM = 1;
    private static final Stage[] STAGES = Stage.values();
    private static final Verdict[] VERDICTS = Verdict.values();
    private static final CodeFact.Family[] FAMILIES = CodeFact.Family.values();
    private static final CodeKind[] KINDS = CodeKind.values();
    private static final CodeStatus[] STATUSES = CodeStatus.values();
    private static final AirMethod[] METHODS = AirMethod.values();
    private static final RepairAction[] ACTIONS = RepairAction.values();

    private FactsRow() {}

    public static byte[] bytes(VisitFacts facts) {
        RowOut out = new RowOut(FORM);
        out.flags(facts.releasedAt().isPresent(), facts.codesCleared(), facts.defectsReported().isPresent(), facts.defectsCertified());
        out.visit(facts.visit());
        out.time(facts.arrivedAt());
        out.time(facts.releasedAt());
        write(facts.odometer(), out);
        write(facts.engineHours(), out);
        out.list(facts.codes(), code -> write(code, out));
        out.list(facts.busChecks(), check -> write(check, out));
        out.list(facts.airTests(), test -> write(test, out));
        out.list(facts.supplies(), supply -> write(supply, out));
        out.list(facts.repairs(), repair -> write(repair, out));
        LampFact lamps = facts.lamps();
        out.flags(lamps.redStop(), lamps.amberWarning(), lamps.malfunction(), lamps.protect());
        out.flags(facts.declaredOutOfService());
        facts.defectsReported().ifPresent(out::count);
        return out.sealed();
    }

    /** @throws java.io.UncheckedIOException if they are damaged or of another form */
    public static VisitFacts read(byte[] bytes) {
        return RowIn.read(bytes, FORM, in -> {
            int flags = in.flags();
            return new VisitFacts(in.visit(), in.time(), in.time(in.has(flags, 0)), reading(in), reading(in), in.list(() -> code(in)),
                    in.has(flags, 1), in.list(() -> check(in)), in.list(() -> test(in)), in.list(() -> supply(in)), in.list(() -> repair(in)),
                    lamps(in), in.said(in.flags(), 0), in.has(flags, 2) ? Optional.of((int) in.count()) : Optional.empty(), in.has(flags, 3));
        });
    }

    private static void write(MeterReading reading, RowOut out) {
        out.flags(reading.shown().isPresent(), reading.replaced(), reading.previous().isPresent());
        out.visit(reading.visit());
        out.time(reading.at());
        out.number(reading.shown());
        out.number(reading.previous());
    }

    private static MeterReading reading(RowIn in) {
        int flags = in.flags();
        return new MeterReading(in.visit(), in.time(), in.number(in.has(flags, 0)), in.has(flags, 1), in.number(in.has(flags, 2)));
    }

    private static void write(CodeFact code, RowOut out) {
        out.flags(code.system().isPresent(), code.accused().isPresent(), code.reporter().isPresent(), code.occurrences().isPresent(),
                code.setDuringService());
        out.text(code.key());
        out.text(code.label());
        out.text(code.pointer());
        out.word(code.family());
        out.word(code.kind());
        out.text(code.system());
        out.text(code.accused());
        out.text(code.reporter());
        out.word(code.status());
        code.occurrences().ifPresent(out::whole);
        out.word(code.stage());
    }

    private static CodeFact code(RowIn in) {
        int flags = in.flags();
        return new CodeFact(in.text(), in.text(), in.text(), in.word(FAMILIES), in.word(KINDS), in.text(in.has(flags, 0)), in.text(in.has(flags, 1)),
                in.text(in.has(flags, 2)), in.word(STATUSES), in.has(flags, 3) ? OptionalInt.of((int) in.whole()) : OptionalInt.empty(),
                in.has(flags, 4), in.word(STAGES));
    }

    private static void write(BusFact check, RowOut out) {
        out.flags(check.highLowOhm().isPresent(), check.highLowLow().isPresent(), check.highLowHigh().isPresent());
        out.text(check.network());
        out.word(check.stage());
        out.texts(check.pointers());
        out.word(check.verdict());
        out.texts(check.readings());
        out.texts(check.answered());
        out.texts(check.silent());
        out.list(check.suspects(), suspect -> write(suspect, out));
        out.number(check.highLowOhm());
        out.number(check.highLowLow());
        out.number(check.highLowHigh());
    }

    private static BusFact check(RowIn in) {
        int flags = in.flags();
        return new BusFact(in.text(), in.word(STAGES), in.texts(), in.word(VERDICTS), new LinkedHashSet<>(in.texts()), in.texts(), in.texts(),
                in.list(() -> suspect(in)), in.number(in.has(flags, 0)), in.number(in.has(flags, 1)), in.number(in.has(flags, 2)));
    }

    private static void write(SuspectFact suspect, RowOut out) {
        out.flags(suspect.part().isPresent());
        out.text(suspect.fault());
        out.text(suspect.part());
        out.texts(suspect.between());
        out.number(suspect.probability());
    }

    private static SuspectFact suspect(RowIn in) {
        int flags = in.flags();
        return new SuspectFact(in.text(), in.text(in.has(flags, 0)), in.texts(), in.number());
    }

    private static void write(AirFact test, RowOut out) {
        out.flags(test.orificeMm().isPresent(), test.orificeLimitMm().isPresent(), test.shareOfEngineAir().isPresent());
        out.text(test.pointer());
        out.word(test.stage());
        out.word(test.method());
        out.word(test.verdict());
        out.texts(test.leaksAt());
        test.orificeMm().ifPresent(hole -> {
            out.number(hole.value());
            out.number(hole.standardUncertainty());
        });
        out.number(test.orificeLimitMm());
        out.number(test.shareOfEngineAir());
    }

    private static AirFact test(RowIn in) {
        int flags = in.flags();
        return new AirFact(in.text(), in.word(STAGES), in.word(METHODS), in.word(VERDICTS), in.texts(),
                in.has(flags, 0) ? Optional.of(new Measured(in.number(), in.number())) : Optional.empty(), in.number(in.has(flags, 1)),
                in.number(in.has(flags, 2)));
    }

    private static void write(SupplyFact supply, RowOut out) {
        out.flags(supply.low());
        out.word(supply.stage());
        out.number(supply.volts());
        out.text(supply.pointer());
    }

    private static SupplyFact supply(RowIn in) {
        int flags = in.flags();
        return new SupplyFact(in.word(STAGES), in.number(), in.has(flags, 0), in.text());
    }

    private static void write(RepairFact repair, RowOut out) {
        out.flags(repair.cause().isPresent(), repair.claimsFixed());
        out.place(repair.place());
        out.word(repair.action());
        out.text(repair.cause());
    }

    private static RepairFact repair(RowIn in) {
        int flags = in.flags();
        return new RepairFact(in.place(), in.word(ACTIONS), in.text(in.has(flags, 0)), in.has(flags, 1));
    }

    private static LampFact lamps(RowIn in) {
        int flags = in.flags();
        return new LampFact(in.said(flags, 0), in.said(flags, 1), in.said(flags, 2), in.said(flags, 3));
    }
}
