package comebackledger.api.transfer;

import comebackledger.ledger.Ledger;
import comebackledger.ledger.Stored;
import comebackledger.ledger.TransferDesk;
import comebackledger.openapi.TransferMapping;
import comebackledger.openapi.WorkOrderRows;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.util.function.LongConsumer;

/** Writes an export: every version and revision as lines of JSON, or the visits as they are now as a table of work orders. */
public final class LineExport implements TransferDesk.Receiver {
    private final OutputStream out;
    private final LongConsumer progress;
    private long lines;

    /** @param progress told how many lines were written, now and then */
    public LineExport(OutputStream out, LongConsumer progress) {
        this.out = out;
        this.progress = progress;
    }

    public void giveLines(Ledger ledger, String fleet) {
        new TransferDesk(ledger).give(fleet, this);
    }

    public void giveTable(Ledger ledger, String fleet) {
        write(Csv.row(WorkOrderRows.header()));
        new TransferDesk(ledger).giveCurrent(fleet, (unit, visit) -> WorkOrderRows.rows(unit, visit).forEach(row -> write(Csv.row(row))));
    }

    public long lines() {
        return lines;
    }

    @Override
    public void policy(Stored.PolicyVersion version) {
        write(TransferMapping.line(version));
    }

    @Override
    public void baseline(Stored.BaselineVersion version) {
        write(TransferMapping.line(version));
    }

    @Override
    public void unit(Stored.UnitVersion version) {
        write(TransferMapping.line(version));
    }

    @Override
    public void visit(Stored.VisitRevision revision) {
        write(TransferMapping.line(revision));
    }

    private void write(byte[] line) {
        try {
            out.write(line);
            lines++;
            if (lines % 500 == 0) {
                progress.accept(lines);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
