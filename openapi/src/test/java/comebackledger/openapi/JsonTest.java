package comebackledger.openapi;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Set;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Documents are read and kept as any other reader of JSON would, whichever of our ways takes them. */
class JsonTest {
    private static final long SEED = 20261130;
    private static final ObjectMapper OTHER_READER = new ObjectMapper();
    private static final List<String> TEXTS = List.of("", "yard-0", "a, b: {c} [d]", " two  blanks ", "Bremse hängt", "\ud83d\ude9b", "\u2028");
    /** As sent, and as kept: short escapes stay, what needs none loses it, control characters have four digits. */
    private static final List<List<String>> ESCAPED = List.of(List.of("\\\"", "\\\""), List.of("\\\\", "\\\\"), List.of("\\n", "\\n"),
            List.of("\\/", "/"), List.of("\\u0041", "A"), List.of("\\u00e9", "é"), List.of("\\u0001", "\\u0001"),
            List.of("\\ud83d\\ude9b", "\ud83d\ude9b"));
    private static final List<String> NUMBERS = List.of("0", "-0", "1.50", "1E2", "12345678901", "123456789012345678901234567890", "1e-400",
            "-7.25e+3",
            "2147483648", "0.1");

    /** A document with white space, and the same without. */
    private static final class Written {
        private final SplittableRandom random;
        private final boolean escapes;
        private final StringBuilder sent = new StringBuilder();
        private final StringBuilder kept = new StringBuilder();

        Written(SplittableRandom random, boolean escapes) {
            this.random = random;
            this.escapes = escapes;
        }

        void both(String token) {
            kept.append(token);
            sent.append(token);
            space();
        }

        void space() {
            while (random.nextInt(3) == 0) {
                sent.append(" \n\r\t".charAt(random.nextInt(4)));
            }
        }

        void text() {
            if (escapes && random.nextInt(3) == 0) {
                List<String> one = ESCAPED.get(random.nextInt(ESCAPED.size()));
                sent.append('"').append(one.getFirst()).append('"');
                kept.append('"').append(one.getLast()).append('"');
                space();
            } else {
                both('"' + TEXTS.get(random.nextInt(TEXTS.size())) + '"');
            }
        }

        void value(int depth) {
            switch (random.nextInt(depth > 3 ? 3 : 5)) {
                case 0 -> text();
                case 1 -> both(NUMBERS.get(random.nextInt(NUMBERS.size())));
                case 2 -> both(random.nextBoolean() ? "true" : "false");
                case 3 -> {
                    both("[");
                    int size = random.nextInt(4);
                    for (int i = 0; i < size; i++) {
                        if (i > 0) {
                            both(",");
                        }
                        value(depth + 1);
                    }
                    both("]");
                }
                default -> object(depth + 1);
            }
        }

        void object(int depth) {
            both("{");
            int size = random.nextInt(5);
            for (int i = 0; i < size; i++) {
                if (i > 0) {
                    both(",");
                }
                both("\"member " + i + "\"");
                both(":");
                value(depth);
            }
            both("}");
        }
    }

    @Test
    void object_andCompact_agreeWithAnotherReader() throws IOException {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int i = 0; i < 4000; i++) {
            Written written = new Written(random, i % 2 == 1);
            written.space();
            written.object(0);
            byte[] body = written.sent.toString().getBytes(StandardCharsets.UTF_8);

            JsonNode read = Json.object(body);

            assertEquals(OTHER_READER.readTree(body), read, written.sent.toString());
            assertEquals(written.kept.toString(), Json.compact(body), written.sent.toString());
            assertEquals(read, Json.kept(written.kept.toString()));
        }
    }

    @Test
    void compactMember_keepsAllButTheNamedOnes() {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int i = 0; i < 2000; i++) {
            Written before = new Written(random, i % 2 == 1);
            Written note = new Written(random, i % 2 == 1);
            Written left = new Written(random, i % 2 == 1);
            before.value(0);
            note.value(0);
            left.value(0);
            String sent = " {\"a\": " + before.sent + ", \"visit\" : { \"id\" :" + left.sent + ", \"note\": " + note.sent + ",\"unit\":" + left.sent
                    + ",\"more\":[1 , 2], \"last\":" + left.sent + "} }\r\n";

            String kept = Json.compactMember(sent.getBytes(StandardCharsets.UTF_8), "visit", Set.of("id", "unit", "last"));

            assertEquals("{\"note\":" + note.kept + ",\"more\":[1,2]}", kept, sent);
        }
    }

    /** A mark before the document is passed over, and is no part of what is kept. */
    @Test
    void compact_whenAByteOrderMarkComesFirst_keepsTheDocumentAlone() {
        assertEquals("{\"a\":1}", Json.compact("\ufeff{\"a\": 1}".getBytes(StandardCharsets.UTF_8)));
    }

    @ParameterizedTest
    @CsvSource(delimiter = '|', value = {"{'a': 1, 'b': {'c': 1, 'c': 2}}|malformed-json|twice in one object at line 1, column 27",
            "{'a': 1} {}|malformed-json|Something follows the JSON object at line 1", "{'a': |malformed-json|ends too early at line 1, column 6",
            "''|malformed-json|is empty", "[1]|invalid-value|one JSON object in braces", "{'a': [1, null]}|invalid-value|null says neither",
            "{'a': '\\ud83d'}|invalid-value|half of a surrogate pair", "{'a': '\\ude9b\\ud83d'}|invalid-value|half of a surrogate pair"})
    void object_whenSomethingIsWrong_saysWhatAndWhere(String body, String slug, String said) {
        byte[] bytes = body.equals("''") ? new byte[0] : body.replace('\'', '"').getBytes(StandardCharsets.UTF_8);

        Problem problem = assertThrows(Problem.class, () -> Json.object(bytes));

        assertEquals(slug, problem.slug().word());
        assertTrue(problem.detail().contains(said), problem.detail());
    }

    /** An import with a hundred thousand members must not take the square of it. */
    @ParameterizedTest
    @ValueSource(ints = 100_000)
    void object_ofManyMembers_isRead(int members) {
        StringBuilder body = new StringBuilder("{\"m\":0");
        for (int i = 1; i < members; i++) {
            body.append(",\"m").append(i).append("\":").append(i);
        }

        assertEquals(members, Json.object(body.append('}').toString().getBytes(StandardCharsets.UTF_8)).size());
    }
}
