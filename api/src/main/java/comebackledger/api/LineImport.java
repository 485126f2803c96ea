package comebackledger.api;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.ledger.Caller;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.TransferDesk;
import comebackledger.ledger.TransferLine;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import comebackledger.openapi.TransferMapping;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.LongConsumer;

/** Takes the lines of an import in batches and counts what became of them. A bad line is rejected by itself. */
final class LineImport {
    /** Lines and bytes of one transaction: enough to share its cost, little enough to hold and to lock. */
    private static final int LINES_A_BATCH = 500;
    private static final int BYTES_A_BATCH = 4 << 20;
    /** More are counted but not listed. */
    private static final int PROBLEMS_LISTED = 10_000;

    private final Ledger ledger;
    private final TransferDesk desk;
    private final Caller caller;
    private final boolean mayChangePolicy;
    private final SortedMap<Long, Problem> problems = new TreeMap<>();
    private final List<Numbered> batch = new ArrayList<>();
    private long batchBytes;
    private long accepted;
    private long unchanged;
    private long rejected;

    private record Numbered(long number, TransferLine line) {}

    LineImport(Ledger ledger, Caller caller, boolean mayChangePolicy) {
        this.ledger = ledger;
        this.desk = new TransferDesk(ledger);
        this.caller = caller;
        this.mayChangePolicy = mayChangePolicy;
    }

    /** @param progress told how many lines were read, after each batch */
    void takeAll(InputStream in, LongConsumer progress) throws IOException {
        Lines lines = new Lines(in, (int) Body.DOCUMENT.bytesAtMost());
        for (Optional<Lines.Line> line = lines.next(); line.isPresent(); line = lines.next()) {
            take(line.get());
            if (batch.size() >= LINES_A_BATCH || batchBytes >= BYTES_A_BATCH) {
                flush();
                progress.accept(line.get().number());
            }
        }
        flush();
    }

    private void take(Lines.Line line) {
        try {
            byte[] content = line.content().orElseThrow(() -> new Problem(Slug.PAYLOAD_TOO_LARGE,
                    "The line has more than " + Body.DOCUMENT.bytesAtMost() + " bytes, the limit of one line."));
            TransferLine decoded = TransferMapping.toCore(content, ledger.now());
            boolean policy = decoded instanceof TransferLine.OfPolicy || decoded instanceof TransferLine.OfBaseline;
            if (policy && !mayChangePolicy) {
                throw new Problem(Slug.FORBIDDEN, "Policy and baseline lines need the role administrator.");
            }
            batch.add(new Numbered(line.number(), decoded));
            batchBytes += content.length;
        } catch (Problem problem) {
            reject(line.number(), problem);
        }
    }

    private void flush() {
        if (batch.isEmpty()) {
            return;
        }
        List<TransferDesk.Taken> taken = desk.take(caller, batch.stream().map(Numbered::line).toList());
        for (int i = 0; i < taken.size(); i++) {
            long number = batch.get(i).number();
            switch (taken.get(i)) {
                case ACCEPTED -> accepted++;
                case UNCHANGED -> unchanged++;
                case CONFLICT -> reject(number, new Problem(Slug.CONFLICT,
                        "Other content is kept under this name. To replace it, send the line with the next revision, or use `PUT` with `If-Match`."));
                case UNIT_UNKNOWN ->
                    reject(number, new Problem(Slug.UNIT_UNKNOWN, "The unit of this visit is not registered. Send its line before."));
            }
        }
        batch.clear();
        batchBytes = 0;
    }

    private void reject(long number, Problem problem) {
        rejected++;
        if (problems.size() < PROBLEMS_LISTED) {
            problems.put(number, problem);
        }
    }

    long accepted() {
        return accepted;
    }

    long unchanged() {
        return unchanged;
    }

    long rejected() {
        return rejected;
    }

    /** By line. */
    ArrayNode problems() {
        ArrayNode list = JsonNodeFactory.instance.arrayNode();
        problems.forEach((number, problem) -> {
            ObjectNode item = list.addObject().put("line", number);
            item.set("problem", problem.toWire());
        });
        return list;
    }
}
