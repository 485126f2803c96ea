package comebackledger.code;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.function.Predicate;
import java.util.stream.Stream;

/** The published cases of {@code /code/*.json}; each names its source. */
record Case(String id, JsonNode inputs, JsonNode expected, String source) {
    private static final ObjectMapper MAPPER = new ObjectMapper();

    static Stream<Case> of(String file, Predicate<Case> wanted) {
        List<Case> cases = all(file).stream().filter(wanted).toList();
        if (cases.isEmpty()) {
            throw new AssertionError("no case of " + file + " is wanted");
        }
        return cases.stream();
    }

    static List<Case> all(String file) {
        try (InputStream stream = Objects.requireNonNull(Case.class.getResourceAsStream("/code/" + file))) {
            List<Case> cases = new ArrayList<>();
            for (JsonNode node : MAPPER.readTree(stream)) {
                cases.add(new Case(node.get("id").asText(), node.get("inputs"), node.get("expected"), node.get("source").asText()));
            }
            return cases;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    String input(String name) {
        return inputs.get(name).asText();
    }

    List<String> inputList(String name) {
        return texts(inputs.get(name));
    }

    String message() {
        return id + ": " + source;
    }

    /** Rejections as {@code place why}, sorted: lists are compared as multisets. */
    List<String> expectedRejections() {
        List<String> rejections = new ArrayList<>();
        for (JsonNode node : expected.get("rejected")) {
            rejections.add((node.has("line") ? "line " + node.get("line") : "at " + node.get("at")) + " " + node.get("why").asText());
        }
        return rejections.stream().sorted().toList();
    }

    static List<String> rejections(List<Rejection> rejected) {
        return rejected.stream().map(one -> one.where().name().toLowerCase(Locale.ROOT) + " " + one.number() + " " + one.why().word()).sorted()
                .toList();
    }

    static List<String> texts(JsonNode list) {
        List<String> texts = new ArrayList<>();
        list.forEach(node -> texts.add(node.asText()));
        return texts;
    }

    @Override
    public String toString() {
        return id;
    }
}
