package comebackledger.openapi;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonLocation;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.core.StreamReadConstraints;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.core.exc.StreamConstraintsException;
import com.fasterxml.jackson.core.io.JsonEOFException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.OutputStream;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.Map;
import java.util.Set;

/** Bytes to a checked JSON tree, and trees to bytes. What the parser leaves open by default is set here and nowhere else. */
public final class Json {
    /** Of one unit, visit, policy or question, alone or as one line of an import; common practice, no source. */
    public static final int DOCUMENT_BYTES_AT_MOST = 1 << 20;
    /** Nesting of objects and arrays. */
    public static final int NESTED_AT_MOST = 32;

    private static final int NUMBER_CHARACTERS_AT_MOST = 60;
    private static final int NAME_CHARACTERS_AT_MOST = 200;

    private static final StreamReadConstraints LIMITS = StreamReadConstraints.builder().maxNestingDepth(NESTED_AT_MOST)
            .maxNumberLength(NUMBER_CHARACTERS_AT_MOST).maxStringLength(Integer.MAX_VALUE).maxNameLength(NAME_CHARACTERS_AT_MOST).build();
    private static final JsonFactory FACTORY = JsonFactory.builder().streamReadConstraints(LIMITS)
            .disable(StreamReadFeature.INCLUDE_SOURCE_IN_LOCATION).build();
    /** Tells what is wrong with a body and where; {@link SoundTree} reads those that are sound in half the time. */
    private static final JsonMapper STRICT = JsonMapper
            .builder(FACTORY.rebuild().enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION).build())
            .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS).build();

    private Json() {}

    /**
     * A whole JSON object, with every {@code null} and every text that is not Unicode already refused.
     *
     * @throws Problem 400 if it is not JSON, names a member twice or nests deeper than {@value #NESTED_AT_MOST}; 422 if it is not an object or holds null
     */
    public static JsonNode object(byte[] body) {
        if (isWiderThanUtf8(body)) {
            throw new Problem(Problem.Slug.MALFORMED_JSON, "The body is not text in UTF-8. Send JSON in UTF-8.");
        }
        try (JsonParser parser = FACTORY.createParser(body)) {
            JsonNode sound = SoundTree.of(parser);
            if (sound != null && sound.isObject()) {
                return sound;
            }
        } catch (IOException e) {
            // Said below, in our words and with its place.
        }
        return told(body);
    }

    private static JsonNode told(byte[] body) {
        JsonNode node = parse(body);
        Faults faults = new Faults();
        if (!node.isObject()) {
            faults.add("", "The body must be one JSON object in braces.");
        } else {
            refuseNullAndBrokenText(node, "", faults);
        }
        faults.throwIfAny();
        return node;
    }

    private static JsonNode parse(byte[] body) {
        try {
            JsonNode node = STRICT.readTree(body);
            if (node == null || node.isMissingNode()) {
                throw new Problem(Problem.Slug.MALFORMED_JSON, "The body is empty. Send one JSON object.");
            }
            return node;
        } catch (JsonProcessingException e) {
            throw new Problem(Problem.Slug.MALFORMED_JSON, saidInOurWords(e));
        } catch (IOException e) {
            throw new Problem(Problem.Slug.MALFORMED_JSON, "The body is not text in UTF-8. Send JSON in UTF-8.");
        }
    }

    /** The parser would guess UTF-16 and UTF-32 by itself; both show a zero byte or a mark among their first four bytes, UTF-8 never does. */
    private static boolean isWiderThanUtf8(byte[] body) {
        for (int i = 0; i < Math.min(4, body.length); i++) {
            if (body[i] == 0 || (body[i] & 0xff) >= 0xfe) {
                return true;
            }
        }
        return false;
    }

    /** Our own sentence with the place only: the parser's text may repeat what was sent. */
    private static String saidInOurWords(JsonProcessingException e) {
        JsonLocation location = e.getLocation();
        String where = location == null ? "" : " at line " + location.getLineNr() + ", column " + location.getColumnNr();
        String text = String.valueOf(e.getOriginalMessage());
        if (e instanceof StreamConstraintsException) {
            return text.contains("nesting")
                    ? "The body nests deeper than " + NESTED_AT_MOST + " levels" + where + ". Send it flatter."
                    : "A number or name is too long" + where + ": numbers have at most " + NUMBER_CHARACTERS_AT_MOST + " characters, names at most "
                            + NAME_CHARACTERS_AT_MOST + ".";
        }
        if (e instanceof JsonEOFException) {
            return "The body is not JSON: it ends too early" + where + ". Send one whole JSON object.";
        }
        if (text.startsWith("Duplicate field")) {
            return "A member name stands twice in one object" + where + ". Send each name once.";
        }
        if (text.startsWith("Trailing token")) {
            return "Something follows the JSON object" + where + ". Send one object and nothing after it.";
        }
        return "The body is not JSON" + where + ". Send one JSON object in UTF-8.";
    }

    private static void refuseNullAndBrokenText(JsonNode node, String pointer, Faults faults) {
        if (node.isNull()) {
            faults.add(pointer, "null says neither that something is known nor that it is not. Leave the field out.");
        } else if (node.isTextual()) {
            if (hasLoneSurrogate(node.textValue())) {
                faults.add(pointer, "The text holds half of a surrogate pair, which is no character. Send whole Unicode characters.");
            }
        } else if (node.isArray()) {
            for (int i = 0; i < node.size(); i++) {
                refuseNullAndBrokenText(node.get(i), pointer + "/" + i, faults);
            }
        } else if (node.isObject()) {
            for (Map.Entry<String, JsonNode> member : node.properties()) {
                refuseNullAndBrokenText(member.getValue(), pointer + "/" + Fields.escaped(member.getKey()), faults);
            }
        }
    }

    static boolean hasLoneSurrogate(String text) {
        for (int i = 0; i < text.length(); i++) {
            if (Character.isSurrogate(text.charAt(i)) && !Character.isSupplementaryCodePoint(text.codePointAt(i++))) {
                return true;
            }
        }
        return false;
    }

    /** The same document without insignificant white space; numbers keep the digits they were sent with. */
    public static String compact(byte[] body) {
        return PlainText.of(body).map(PlainText::compact).orElseGet(() -> copied(body));
    }

    private static String copied(byte[] body) {
        StringWriter out = new StringWriter(body.length);
        try (JsonParser parser = FACTORY.createParser(body); JsonGenerator generator = FACTORY.createGenerator(out)) {
            for (JsonToken token = parser.nextToken(); token != null; token = parser.nextToken()) {
                if (token.isNumeric()) {
                    generator.writeNumber(parser.getText());
                } else {
                    generator.copyCurrentEvent(parser);
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return out.toString();
    }

    /** One object member of a document as {@link #compact} text, without some of its own members. */
    static String compactMember(byte[] document, String member, Set<String> without) {
        return PlainText.of(document).map(text -> text.compactMember(member, without)).orElseGet(() -> copiedMember(document, member, without));
    }

    private static String copiedMember(byte[] document, String member, Set<String> without) {
        StringWriter out = new StringWriter(document.length);
        try (JsonParser parser = FACTORY.createParser(document); JsonGenerator generator = FACTORY.createGenerator(out)) {
            parser.nextToken();
            while (!member.equals(parser.nextFieldName())) {
                parser.nextToken();
                parser.skipChildren();
            }
            parser.nextToken();
            generator.writeStartObject();
            for (String name = parser.nextFieldName(); name != null; name = parser.nextFieldName()) {
                parser.nextToken();
                if (without.contains(name)) {
                    parser.skipChildren();
                } else {
                    generator.writeFieldName(name);
                    copyValue(parser, generator);
                }
            }
            generator.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return out.toString();
    }

    private static void copyValue(JsonParser parser, JsonGenerator generator) throws IOException {
        int depth = 0;
        JsonToken token = parser.currentToken();
        while (true) {
            depth += token.isStructStart() ? 1 : token.isStructEnd() ? -1 : 0;
            if (token.isNumeric()) {
                generator.writeNumber(parser.getText());
            } else {
                generator.copyCurrentEvent(parser);
            }
            if (depth == 0) {
                return;
            }
            token = parser.nextToken();
        }
    }

    /** To bytes without a tree between. */
    public static JsonGenerator generator(OutputStream out) throws IOException {
        return STRICT.createGenerator(out);
    }

    public static byte[] bytes(JsonNode node) {
        try {
            return STRICT.writeValueAsBytes(node);
        } catch (JsonProcessingException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** A tree of JSON that we wrote ourselves, as evidence is kept. */
    public static JsonNode kept(String json) {
        try (JsonParser parser = FACTORY.createParser(json)) {
            JsonNode sound = SoundTree.of(parser);
            return sound != null ? sound : STRICT.readTree(json);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
