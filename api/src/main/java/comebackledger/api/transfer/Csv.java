package comebackledger.api.transfer;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * A list of JSON objects as comma-separated values (RFC 4180): a column for each member, those of nested objects named with dots, lists in one
 * cell with semicolons. Text that a spreadsheet would run as a formula begins with an apostrophe.
 */
public final class Csv {
    private Csv() {}

    public static byte[] of(Iterable<JsonNode> items) {
        List<Map<String, String>> rows = new ArrayList<>();
        Set<String> columns = new LinkedHashSet<>();
        for (JsonNode item : items) {
            Map<String, String> row = new LinkedHashMap<>();
            flatten("", item, row);
            rows.add(row);
            columns.addAll(row.keySet());
        }
        StringBuilder text = new StringBuilder();
        line(text, columns.stream().map(Csv::cell).toList());
        for (Map<String, String> row : rows) {
            line(text, columns.stream().map(column -> row.getOrDefault(column, "")).toList());
        }
        return text.toString().getBytes(StandardCharsets.UTF_8);
    }

    /** One row of texts. */
    static byte[] row(List<String> texts) {
        StringBuilder text = new StringBuilder();
        line(text, texts.stream().map(Csv::cell).toList());
        return text.toString().getBytes(StandardCharsets.UTF_8);
    }

    private static void line(StringBuilder text, List<String> cells) {
        text.append(String.join(",", cells)).append("\r\n");
    }

    private static void flatten(String name, JsonNode node, Map<String, String> row) {
        if (node.isObject()) {
            node.properties().forEach(member -> flatten(name.isEmpty() ? member.getKey() : name + "." + member.getKey(), member.getValue(), row));
        } else if (node.isNumber()) {
            row.put(name, node.asText());
        } else if (node.isArray()) {
            List<String> parts = new ArrayList<>();
            node.forEach(part -> parts.add(part.isValueNode() ? part.asText() : part.toString()));
            row.put(name, cell(String.join("; ", parts)));
        } else {
            row.put(name, cell(node.asText()));
        }
    }

    private static String cell(String text) {
        boolean formula = !text.isEmpty() && "=+-@\t\r\n".indexOf(text.charAt(0)) >= 0;
        String harmless = formula ? "'" + text : text;
        boolean quoted = harmless.chars().anyMatch(c -> c == ',' || c == '"' || c == '\r' || c == '\n');
        return quoted ? '"' + harmless.replace("\"", "\"\"") + '"' : harmless;
    }
}
