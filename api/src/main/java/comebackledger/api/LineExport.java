package comebackledger.api;

import comebackledger.ledger.Stored;
import comebackledger.ledger.TransferDesk;
import comebackledger.openapi.TransferMapping;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;

/** Writes an export as lines. */
final class LineExport implements TransferDesk.Receiver {
    private final OutputStream out;
    private long lines;

    LineExport(OutputStream out) {
        this.out = out;
    }

    long lines() {
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
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
