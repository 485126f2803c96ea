package comebackledger.openapi;

import comebackledger.measure.UnitOfMeasure;
import comebackledger.unit.Unit;
import comebackledger.visit.CodeEntry;
import comebackledger.visit.Repair;
import comebackledger.visit.Visit;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

/** Visits to rows of a table of work orders, such as {@link WorkOrderTable} takes. */
public final class WorkOrderRows {
    private WorkOrderRows() {}

    /** The first row of an export: every column. */
    public static List<String> header() {
        return Arrays.stream(WorkOrderColumn.values()).map(WorkOrderColumn::word).toList();
    }

    /** A visit as rows of every column; one for each repair, and for each status and network of its codes. What a table has no column for is left out. */
    public static List<List<String>> rows(Unit unit, Visit visit) {
        List<Map<WorkOrderColumn, String>> rows = new ArrayList<>();
        rows.add(whole(unit, visit));
        int at = 0;
        for (Repair repair : visit.repairs()) {
            Map<WorkOrderColumn, String> row = row(rows, at++, unit, visit);
            row.put(WorkOrderColumn.PLACE, repair.place());
            row.put(WorkOrderColumn.ACTION, repair.action().word());
            repair.cause().ifPresent(cause -> row.put(WorkOrderColumn.CAUSE, cause));
            repair.part().ifPresent(part -> row.put(WorkOrderColumn.PART, part));
            row.put(WorkOrderColumn.CLAIMS_FIXED, repair.claimsFixed() ? "yes" : "no");
        }
        at = 0;
        for (List<CodeEntry> alike : alike(visit.codes())) {
            Map<WorkOrderColumn, String> row = row(rows, at++, unit, visit);
            row.put(WorkOrderColumn.CODES, alike.stream().map(WorkOrderRows::word).collect(Collectors.joining(" ")));
            row.put(WorkOrderColumn.CODES_STATUS, alike.getFirst().status().word());
            alike.getFirst().network().ifPresent(network -> row.put(WorkOrderColumn.CODES_NETWORK, network));
        }
        return rows.stream().map(row -> Arrays.stream(WorkOrderColumn.values()).map(column -> row.getOrDefault(column, "")).toList()).toList();
    }

    private static Map<WorkOrderColumn, String> whole(Unit unit, Visit visit) {
        Map<WorkOrderColumn, String> row = named(unit, visit);
        visit.releasedAt().ifPresent(at -> row.put(WorkOrderColumn.RELEASED_AT, at.toString()));
        unit.group().ifPresent(group -> row.put(WorkOrderColumn.GROUP, group));
        visit.meters().odometer().ifPresent(shown -> row.put(
                shown.unit() == UnitOfMeasure.MILE ? WorkOrderColumn.ODOMETER_MI : WorkOrderColumn.ODOMETER_KM, number(shown.value())));
        visit.meters().engineHours().ifPresent(shown -> row.put(WorkOrderColumn.ENGINE_HOURS, number(UnitOfMeasure.HOUR.fromSi(shown.si()))));
        visit.complaint().ifPresent(complaint -> row.put(WorkOrderColumn.COMPLAINT, complaint));
        visit.shop().ifPresent(shop -> row.put(WorkOrderColumn.SHOP, shop));
        visit.note().ifPresent(note -> row.put(WorkOrderColumn.NOTE, note));
        return row;
    }

    private static Map<WorkOrderColumn, String> named(Unit unit, Visit visit) {
        Map<WorkOrderColumn, String> row = new EnumMap<>(WorkOrderColumn.class);
        row.put(WorkOrderColumn.UNIT, unit.id());
        row.put(WorkOrderColumn.VISIT, visit.id());
        row.put(WorkOrderColumn.ARRIVED_AT, visit.arrivedAt().toString());
        return row;
    }

    private static Map<WorkOrderColumn, String> row(List<Map<WorkOrderColumn, String>> rows, int at, Unit unit, Visit visit) {
        if (at == rows.size()) {
            rows.add(named(unit, visit));
        }
        return rows.get(at);
    }

    /** Runs of codes of one status and network, in order. */
    private static List<List<CodeEntry>> alike(List<CodeEntry> codes) {
        List<List<CodeEntry>> runs = new ArrayList<>();
        for (CodeEntry code : codes) {
            boolean joins = !runs.isEmpty() && runs.getLast().getFirst().status() == code.status()
                    && runs.getLast().getFirst().network().equals(code.network());
            if (!joins) {
                runs.add(new ArrayList<>());
            }
            runs.getLast().add(code);
        }
        return runs;
    }

    private static String word(CodeEntry code) {
        return code.code().orElseGet(() -> code.spn().orElseThrow() + "/" + code.fmi().orElseThrow());
    }

    private static String number(double value) {
        return BigDecimal.valueOf(value).setScale(6, RoundingMode.HALF_EVEN).stripTrailingZeros().toPlainString();
    }
}
