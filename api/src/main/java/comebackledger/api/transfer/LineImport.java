package comebackledger.api.transfer;

import comebackledger.ledger.Caller;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.TransferLine;
import comebackledger.openapi.Json;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import comebackledger.openapi.TransferMapping;
import comebackledger.openapi.WorkOrderTable;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.LongConsumer;

/**
 * Takes an import, lines of JSON or rows of a table, and counts what became of them. A bad line is rejected by itself; where the lines stop before their
 * end, those that were whole are kept. Lines are decoded as they come, and judged and stored in {@link ImportLanes}.
 */
public final class LineImport {
    private final Ledger ledger;
    private final Caller caller;
    private final boolean mayChangePolicy;
    private final ImportTally tally = new ImportTally();

    public LineImport(Ledger ledger, Caller caller, boolean mayChangePolicy) {
        this.ledger = ledger;
        this.caller = caller;
        this.mayChangePolicy = mayChangePolicy;
    }

    public ImportTally tally() {
        return tally;
    }

    /**
     * Lines of JSON.
     *
     * @param progress told how many lines were read, now and then
     * @throws IOException if the lines stop before their end; the whole ones before are taken
     */
    public void takeLines(InputStream in, LongConsumer progress) throws IOException {
        Lines lines = new Lines(in, TransferMapping.LINE_BYTES_AT_MOST);
        try (ImportLanes lanes = lanes()) {
            for (Optional<Lines.Line> line = lines.next(); line.isPresent(); line = lines.next()) {
                take(line.get(), lanes);
                tell(progress, line.get().number());
            }
        }
    }

    private ImportLanes lanes() {
        return new ImportLanes(ledger, caller, tally);
    }

    private static void tell(LongConsumer progress, long read) {
        if (read % 500 == 0) {
            progress.accept(read);
        }
    }

    private void take(Lines.Line line, ImportLanes lanes) {
        try {
            byte[] content = line.content().orElseThrow(TransferMapping::tooLong);
            TransferLine decoded = TransferMapping.toCore(content, ledger.now());
            ImportLanes.Numbered numbered = new ImportLanes.Numbered(List.of(line.number()), decoded, content.length);
            switch (decoded) {
                case TransferLine.OfUnit unit -> lanes.add(unit.evidence().decoded().id(), numbered);
                case TransferLine.OfUnitNamed unit -> lanes.add(unit.evidence().decoded().id(), numbered);
                case TransferLine.OfVisit visit -> lanes.add(visit.unit(), numbered);
                case TransferLine.OfPolicy _,TransferLine.OfBaseline _ -> {
                    if (!mayChangePolicy) {
                        throw new Problem(Slug.FORBIDDEN, "Policy and baseline lines need the role administrator.");
                    }
                    lanes.addAlone(numbered);
                }
            }
        } catch (Problem problem) {
            tally.reject(line.number(), problem);
        }
    }

    /**
     * Rows of a table of work orders.
     *
     * @throws IOException as {@link #takeLines}
     * @throws Problem 422 if its first row names a column that is not known, and nothing is taken
     */
    public void takeTable(InputStream in, LongConsumer progress) throws IOException {
        CsvRows rows = new CsvRows(new Lines(in, Json.DOCUMENT_BYTES_AT_MOST), Json.DOCUMENT_BYTES_AT_MOST);
        Optional<CsvRows.Row> header = rows.header();
        if (header.isEmpty()) {
            return;
        }
        WorkOrderTable table = switch (header.get()) {
            case CsvRows.Row.Cells cells -> WorkOrderTable.of(cells.cells());
            case CsvRows.Row.Broken broken -> throw new Problem(Slug.INVALID_VALUE, "The first row must name the columns. " + broken.detail());
        };
        try (ImportLanes lanes = lanes(); OrderRows orders = new OrderRows(lanes)) {
            for (Optional<CsvRows.Row> row = rows.next(); row.isPresent(); row = rows.next()) {
                orders.take(row.get(), table);
                tell(progress, row.get().number());
            }
        }
    }

    /** Rows that continue each other, waiting to become one visit. */
    private final class OrderRows implements AutoCloseable {
        private final ImportLanes lanes;
        private final List<WorkOrderTable.Row> waiting = new ArrayList<>();
        private int bytes;
        private Optional<Long> brokenSince = Optional.empty();
        private Optional<String> lastUnit = Optional.empty();

        OrderRows(ImportLanes lanes) {
            this.lanes = lanes;
        }

        void take(CsvRows.Row row, WorkOrderTable table) {
            try {
                switch (row) {
                    case CsvRows.Row.Broken broken -> throw new Problem(Slug.INVALID_VALUE, broken.detail());
                    case CsvRows.Row.Cells cells -> add(table.row(cells.number(), cells.cells()), cells.bytes());
                }
            } catch (Problem problem) {
                tally.reject(row.number(), problem);
                brokenSince = brokenSince.or(() -> Optional.of(row.number()));
            }
        }

        private void add(WorkOrderTable.Row row, int rowBytes) {
            if (!waiting.isEmpty() && !row.continues(waiting.getLast())) {
                close();
            }
            if (waiting.isEmpty()) {
                brokenSince = Optional.empty();
            }
            waiting.add(row);
            bytes += rowBytes;
        }

        /** Hands over what waits as one visit; where it is impossible, every row of it is told. */
        @Override
        public void close() {
            if (waiting.isEmpty()) {
                return;
            }
            List<Long> numbers = waiting.stream().map(WorkOrderTable.Row::number).toList();
            try {
                if (bytes > Json.DOCUMENT_BYTES_AT_MOST) {
                    throw new Problem(Slug.PAYLOAD_TOO_LARGE,
                            "The rows of this visit have more than " + Json.DOCUMENT_BYTES_AT_MOST + " bytes together, the limit of one visit.");
                }
                if (brokenSince.filter(line -> line < numbers.getLast()).isPresent()) {
                    throw new Problem(Slug.INVALID_VALUE, "A row between those of this visit cannot be read: line " + brokenSince.get()
                            + ". Half a visit is not taken; put that row right and send them again.");
                }
                WorkOrderTable.Order order = WorkOrderTable.order(waiting, ledger.now());
                if (!lastUnit.equals(Optional.of(order.visit().unit()))) {
                    lastUnit = Optional.of(order.visit().unit());
                    lanes.add(order.visit().unit(), new ImportLanes.Numbered(List.of(), order.unit(), 0));
                }
                lanes.add(order.visit().unit(), new ImportLanes.Numbered(numbers, order.visit(), bytes));
            } catch (Problem problem) {
                tally.reject(numbers.getFirst(), problem);
                numbers.stream().skip(1).forEach(number -> tally.reject(number, new Problem(Slug.INVALID_VALUE,
                        "This row belongs to the visit of line " + numbers.getFirst()
                                + ", which was rejected as a whole. Put that right and send both.")));
            } finally {
                waiting.clear();
                bytes = 0;
            }
        }
    }
}
