package comebackledger.code;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** A table that stands beside the classes: one record a line, fields in quotes where they hold a comma. */
final class Csv {
    private Csv() {}

    /** Each row by the names of the first line. */
    static List<Map<String, String>> rows(String name) {
        try (InputStream stream = Csv.class.getResourceAsStream(name)) {
            if (stream == null) {
                throw new IllegalStateException("the table " + name + " is not packed beside its classes");
            }
            BufferedReader reader = new BufferedReader(new InputStreamReader(stream, StandardCharsets.UTF_8));
            List<List<String>> lines = reader.lines().map(Csv::fields).toList();
            List<String> names = lines.getFirst();
            return lines.subList(1, lines.size()).stream().map(fields -> row(names, fields)).toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Map<String, String> row(List<String> names, List<String> fields) {
        if (names.size() != fields.size()) {
            throw new IllegalStateException("a row has " + fields.size() + " fields, its table " + names.size());
        }
        Map<String, String> row = new LinkedHashMap<>();
        for (int i = 0; i < names.size(); i++) {
            row.put(names.get(i), fields.get(i));
        }
        return row;
    }

    private static List<String> fields(String line) {
        List<String> fields = new ArrayList<>();
        StringBuilder field = new StringBuilder();
        boolean quoted = false;
        for (char c : line.toCharArray()) {
            if (c == '"') {
                quoted = !quoted;
            } else if (c == ',' && !quoted) {
                fields.add(field.toString());
                field.setLength(0);
            } else {
                field.append(c);
            }
        }
        fields.add(field.toString());
        return fields;
    }
}
