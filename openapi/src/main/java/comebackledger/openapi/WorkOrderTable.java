package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.ledger.Evidence;
import comebackledger.ledger.TransferLine;
import comebackledger.unit.Unit;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Rows of a table of work orders to visits: the way in for a fleet that has nothing else; {@link WorkOrderRows} is the way out. Rows of one visit that
 * follow each other are one visit: what they all tell must be told alike or left empty, repairs and codes add up.
 */
public final class WorkOrderTable {
    private static final Pattern NUMBER = Pattern.compile("[0-9]{1,15}(\\.[0-9]{1,6})?");
    private static final Pattern SPN_FMI = Pattern.compile("([0-9]{1,6})/([0-9]{1,2})");
    private static final Pattern ENTRY = Pattern.compile("/visit/(repairs|codes)/([0-9]+)/?(.*)");
    private static final Map<String, WorkOrderColumn> COLUMN_OF_MEMBER = Map.of("action", WorkOrderColumn.ACTION, "cause", WorkOrderColumn.CAUSE,
            "part", WorkOrderColumn.PART, "claimsFixed", WorkOrderColumn.CLAIMS_FIXED, "status", WorkOrderColumn.CODES_STATUS, "network",
            WorkOrderColumn.CODES_NETWORK);
    private static final Set<WorkOrderColumn> OF_REPAIR = EnumSet.of(WorkOrderColumn.PLACE, WorkOrderColumn.ACTION, WorkOrderColumn.CAUSE,
            WorkOrderColumn.PART, WorkOrderColumn.CLAIMS_FIXED);
    private static final Set<WorkOrderColumn> OF_CODES = EnumSet.of(WorkOrderColumn.CODES, WorkOrderColumn.CODES_STATUS,
            WorkOrderColumn.CODES_NETWORK);
    private static final Map<String, Boolean> TRUTHS = Map.of("yes", true, "true", true, "no", false, "false", false);
    private static final String STARTS_FORMULA = "=+-@\t\r";

    private final List<WorkOrderColumn> columns;

    private WorkOrderTable(List<WorkOrderColumn> columns) {
        this.columns = columns;
    }

    /**
     * @param header the cells of the first row
     * @throws Problem 422 with every column that is not known, stands twice or is missing
     */
    public static WorkOrderTable of(List<String> header) {
        Faults faults = new Faults();
        List<WorkOrderColumn> columns = new ArrayList<>();
        for (int i = 0; i < header.size(); i++) {
            Optional<WorkOrderColumn> column = WorkOrderColumn.ofWord(header.get(i).strip());
            String pointer = "column " + (i + 1);
            if (column.isEmpty()) {
                faults.add(pointer, "The first row names a column that is not known. Rename or leave out column " + (i + 1) + "; the columns are "
                        + WorkOrderColumn.words() + ".");
            } else if (columns.contains(column.get())) {
                faults.add(pointer, "`" + column.get().word() + "` stands twice in the first row. Keep one.");
            }
            column.ifPresent(columns::add);
        }
        for (WorkOrderColumn needed : List.of(WorkOrderColumn.UNIT, WorkOrderColumn.VISIT, WorkOrderColumn.ARRIVED_AT)) {
            if (!columns.contains(needed)) {
                faults.add(needed.word(), "The first row has no column `" + needed.word() + "`. It is required; the columns are "
                        + WorkOrderColumn.words() + ".");
            }
        }
        faults.throwIfAny();
        return new WorkOrderTable(columns);
    }

    /** One row: the cells that hold anything. */
    public static final class Row {
        private final long number;
        private final Map<WorkOrderColumn, String> cells;

        private Row(long number, Map<WorkOrderColumn, String> cells) {
            this.number = number;
            this.cells = cells;
        }

        /** Its line in the file, from 1. */
        public long number() {
            return number;
        }

        private Optional<String> cell(WorkOrderColumn column) {
            return Optional.ofNullable(cells.get(column));
        }

        /** Whether the visit of both is the same. */
        public boolean continues(Row before) {
            return cell(WorkOrderColumn.UNIT).equals(before.cell(WorkOrderColumn.UNIT)) && cell(WorkOrderColumn.VISIT).isPresent()
                    && cell(WorkOrderColumn.VISIT).equals(before.cell(WorkOrderColumn.VISIT));
        }

        private List<String> codes() {
            return cell(WorkOrderColumn.CODES).stream().flatMap(text -> Arrays.stream(text.split("[\\s;]+"))).filter(word -> !word.isEmpty())
                    .toList();
        }

        private boolean tellsAny(Set<WorkOrderColumn> of) {
            return of.stream().anyMatch(cells::containsKey);
        }
    }

    /** @throws Problem 422 if the row has another number of cells than the first */
    public Row row(long number, List<String> cells) {
        if (cells.size() != columns.size()) {
            throw new Problem(Problem.Slug.INVALID_VALUE, "The row has " + cells.size() + " cells and the first row " + columns.size()
                    + ". Put text that holds the separator in quotes.");
        }
        Map<WorkOrderColumn, String> told = new EnumMap<>(WorkOrderColumn.class);
        for (int i = 0; i < cells.size(); i++) {
            String text = plain(cells.get(i).strip());
            if (!text.isEmpty()) {
                told.put(columns.get(i), text);
            }
        }
        return new Row(number, told);
    }

    /** Without the apostrophe that an export puts before what a spreadsheet would run. */
    private static String plain(String cell) {
        return cell.length() > 1 && cell.charAt(0) == '\'' && STARTS_FORMULA.indexOf(cell.charAt(1)) >= 0 ? cell.substring(1) : cell;
    }

    /** What a row or rows of one visit came to: the unit as first named, and the visit. */
    public record Order(TransferLine.OfUnitNamed unit, TransferLine.OfVisit visit) {}

    /**
     * The visit of rows that continue each other.
     *
     * @param now the server's clock, which a visit may be ahead of by an hour
     * @throws Problem 422 with every fault, each with the column and, of several rows, the line
     */
    public static Order order(List<Row> rows, Instant now) {
        Faults faults = new Faults();
        ObjectNode line = JsonNodeFactory.instance.objectNode();
        line.set("visit", new Assembly(rows, faults).visit());
        TransferLine.OfVisit taken;
        try {
            taken = (TransferLine.OfVisit) TransferMapping.toCore(Json.bytes(line), now);
        } catch (Problem problem) {
            if (faults.count() == 0) {
                throw told(problem, rows);
            }
            problem.faults().forEach(fault -> faults.add(pointer(fault.pointer(), rows), fault.detail()));
            throw faults.problem();
        }
        faults.throwIfAny();
        return new Order(named(taken.unit(), rows), taken);
    }

    private static TransferLine.OfUnitNamed named(String id, List<Row> rows) {
        ObjectNode unit = JsonNodeFactory.instance.objectNode();
        rows.stream().flatMap(row -> row.cell(WorkOrderColumn.GROUP).stream()).findFirst().ifPresent(group -> unit.put("group", group));
        Faults faults = new Faults();
        Optional<Unit> decoded = UnitMapping.unit(id, Fields.of(unit, "/unit", faults));
        faults.throwIfAny();
        return new TransferLine.OfUnitNamed(new Evidence<>(decoded.orElseThrow(), unit.toString()));
    }

    /** The same faults with the columns they speak of, as the table's owner knows them. */
    private static Problem told(Problem problem, List<Row> rows) {
        List<Fault> faults = problem.faults().stream().map(fault -> new Fault(pointer(fault.pointer(), rows), fault.detail())).toList();
        return new Problem(problem.slug(), problem.detail(), faults);
    }

    private static String pointer(String pointer, List<Row> rows) {
        Matcher entry = ENTRY.matcher(pointer);
        if (!entry.matches()) {
            return Arrays.stream(WorkOrderColumn.values()).filter(column -> column.holds(pointer))
                    .min(Comparator.comparing(column -> rows.stream().noneMatch(row -> row.cell(column).isPresent())))
                    .map(WorkOrderColumn::word).orElse(pointer);
        }
        boolean repair = entry.group(1).equals("repairs");
        int left = Integer.parseInt(entry.group(2));
        for (Row row : rows) {
            left -= repair ? row.tellsAny(OF_REPAIR) ? 1 : 0 : row.codes().size();
            if (left < 0) {
                return at(COLUMN_OF_MEMBER.getOrDefault(entry.group(3), repair ? WorkOrderColumn.PLACE : WorkOrderColumn.CODES), row, rows);
            }
        }
        return pointer;
    }

    private static String at(WorkOrderColumn column, Row row, List<Row> rows) {
        return rows.size() == 1 ? column.word() : column.word() + ", line " + row.number();
    }

    /** One visit put together from its rows. */
    private static final class Assembly {
        private final List<Row> rows;
        private final Faults faults;
        private final ObjectNode visit = JsonNodeFactory.instance.objectNode();

        Assembly(List<Row> rows, Faults faults) {
            this.rows = rows;
            this.faults = faults;
        }

        ObjectNode visit() {
            text(WorkOrderColumn.UNIT, "unit");
            text(WorkOrderColumn.VISIT, "id");
            text(WorkOrderColumn.ARRIVED_AT, "arrivedAt");
            text(WorkOrderColumn.RELEASED_AT, "releasedAt");
            ObjectNode meters = JsonNodeFactory.instance.objectNode();
            if (told(WorkOrderColumn.ODOMETER_KM).isPresent() && told(WorkOrderColumn.ODOMETER_MI).isPresent()) {
                faults.add(WorkOrderColumn.ODOMETER_MI.word(), "The odometer is told in km and in mi. Keep one.");
            }
            quantity(meters, WorkOrderColumn.ODOMETER_KM, "odometer", "km");
            quantity(meters, WorkOrderColumn.ODOMETER_MI, "odometer", "mi");
            quantity(meters, WorkOrderColumn.ENGINE_HOURS, "engineHours", "h");
            if (!meters.isEmpty()) {
                visit.set("meters", meters);
            }
            text(WorkOrderColumn.COMPLAINT, "complaint");
            rows.forEach(this::codes);
            rows.forEach(this::repair);
            text(WorkOrderColumn.SHOP, "shop");
            text(WorkOrderColumn.NOTE, "note");
            told(WorkOrderColumn.GROUP);
            return visit;
        }

        /** What the rows tell in a column that the visit has once. */
        private Optional<String> told(WorkOrderColumn column) {
            Optional<String> first = rows.stream().flatMap(row -> row.cell(column).stream()).findFirst();
            for (Row row : rows) {
                if (row.cell(column).isPresent() && !row.cell(column).equals(first)) {
                    faults.add(at(column, row, rows),
                            "Rows of one visit tell `" + column.word() + "` differently. Tell it alike, or in one row only.");
                }
            }
            return first;
        }

        private void text(WorkOrderColumn column, String member) {
            told(column).ifPresent(value -> visit.put(member, value));
        }

        private void quantity(ObjectNode meters, WorkOrderColumn column, String member, String unit) {
            told(column).ifPresent(value -> {
                if (NUMBER.matcher(value).matches()) {
                    meters.putObject(member).put("value", new BigDecimal(value)).put("unit", unit);
                } else {
                    faults.add(column.word(), "`" + column.word()
                            + "` must be a number in digits with a dot before the fraction, without separators between thousands.");
                }
            });
        }

        private void repair(Row row) {
            if (!row.tellsAny(OF_REPAIR)) {
                return;
            }
            ObjectNode repair = visit.withArray("repairs").addObject();
            row.cell(WorkOrderColumn.PLACE).ifPresent(value -> repair.put("place", value));
            row.cell(WorkOrderColumn.CAUSE).ifPresent(value -> repair.put("cause", value));
            row.cell(WorkOrderColumn.ACTION).ifPresent(value -> repair.put("action", value));
            row.cell(WorkOrderColumn.PART).ifPresent(value -> repair.put("part", value));
            row.cell(WorkOrderColumn.CLAIMS_FIXED).ifPresent(value -> {
                Boolean truth = TRUTHS.get(value.toLowerCase(java.util.Locale.ROOT));
                if (truth == null) {
                    faults.add(at(WorkOrderColumn.CLAIMS_FIXED, row, rows), "`claims_fixed` must be yes or no.");
                } else {
                    repair.put("claimsFixed", truth);
                }
            });
        }

        private void codes(Row row) {
            if (!row.tellsAny(OF_CODES)) {
                return;
            }
            if (row.codes().isEmpty()) {
                faults.add(at(WorkOrderColumn.CODES, row, rows),
                        "`codes` is empty in a row that tells of codes. Name them, or leave the others empty.");
                return;
            }
            ArrayNode codes = visit.withArray("codes");
            for (String word : row.codes()) {
                ObjectNode code = codes.addObject();
                Matcher j1939 = SPN_FMI.matcher(word);
                if (j1939.matches()) {
                    code.put("spn", Integer.parseInt(j1939.group(1))).put("fmi", Integer.parseInt(j1939.group(2)));
                } else {
                    code.put("code", word);
                }
                row.cell(WorkOrderColumn.CODES_NETWORK).ifPresent(network -> code.put("network", network));
                code.put("status", row.cell(WorkOrderColumn.CODES_STATUS).orElse("active"));
            }
        }
    }
}
