package comebackledger.code;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;

/** The tables beside the classes, read once. Each row there names its source, or says {@code from memory}. */
final class CodeTables {
    /** @param names what fleets call the module, most usual first; empty where none is accused */
    record Row(String system, String kind, List<String> names, boolean accusesReporter, String meaning, String source) {}

    /** @param code a code, {@code U*} for a whole letter, or empty @param spn, fmi a number, {@code *} for any, or empty */
    private record Listed(String list, String code, String spn, String fmi) {
        boolean holds(TroubleCode asked) {
            return switch (asked) {
                case J2012Code j2012 -> code.endsWith("*") ? code.charAt(0) == j2012.letter() : code.equals(j2012.base());
                case J1939Code j1939 -> !spn.isEmpty() && (fmi.equals("*") || fmi.equals(Integer.toString(j1939.fmi())))
                        && (spn.equals("*") || j1939.spn().isPresent() && spn.equals(Integer.toString(j1939.spn().getAsInt())));
            };
        }
    }

    private static final Map<String, Row> NETWORK_CODES = table("ucodes.csv", "code");
    private static final Map<String, Row> OTHER_CODES = table("other-codes.csv", "code");
    private static final Map<String, Row> PARAMETERS = table("suspect-parameters.csv", "spn");
    private static final Map<String, Row> ADDRESSES = table("source-addresses.csv", "address");
    private static final Map<String, Row> FAILURE_MODES = table("failure-modes.csv", "fmi");
    private static final Map<String, Row> FAILURE_TYPES = table("failure-types.csv", "hex");
    private static final List<Listed> CLOSED_LISTS = Csv.rows("closed-lists.csv").stream()
            .map(row -> new Listed(value(row, "list"), value(row, "code"), value(row, "spn"), value(row, "fmi"))).toList();

    private CodeTables() {}

    static Optional<Row> code(J2012Code code) {
        return Optional.ofNullable(code.letter() == 'U' ? NETWORK_CODES.get(code.base()) : OTHER_CODES.get(code.base()));
    }

    static Optional<Row> parameter(int spn) {
        return Optional.ofNullable(PARAMETERS.get(Integer.toString(spn)));
    }

    static Optional<Row> address(int address) {
        return Optional.ofNullable(ADDRESSES.get(Integer.toString(address)));
    }

    static Optional<Row> failureMode(int fmi) {
        return Optional.ofNullable(FAILURE_MODES.get(Integer.toString(fmi)));
    }

    static Optional<Row> failureType(String hex) {
        return Optional.ofNullable(FAILURE_TYPES.get(hex));
    }

    static boolean isListed(String list, TroubleCode code) {
        return CLOSED_LISTS.stream().anyMatch(listed -> listed.list.equals(list) && listed.holds(code));
    }

    private static Map<String, Row> table(String name, String key) {
        return Csv.rows(name).stream()
                .collect(Collectors.toMap(row -> value(row, key), CodeTables::row, (first, _) -> first, LinkedHashMap::new));
    }

    private static Row row(Map<String, String> row) {
        Function<String, String> field = name -> value(row, name);
        String meaning = field.apply("meaning").isEmpty() ? field.apply("function") : field.apply("meaning");
        String kind = field.apply("kind").isEmpty() ? field.apply("category") : field.apply("kind");
        List<String> names = Arrays.stream(field.apply("modules").split("\\|")).filter(word -> !word.isEmpty()).toList();
        return new Row(field.apply("system"), kind, names, field.apply("accuses_reporter").equals("yes"), meaning, field.apply("source"));
    }

    private static String value(Map<String, String> row, String name) {
        return row.getOrDefault(name, "");
    }
}
