package comebackledger.openapi;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import org.jspecify.annotations.Nullable;

/** The tree of a document in which all is sound; of any other it tells only that it is not. */
final class SoundTree {
    private static final JsonNodeFactory NODES = JsonNodeFactory.instance;

    private boolean sound = true;

    private SoundTree() {}

    /**
     * @return null where the document is empty, is followed by something, names a member twice, or holds null or half of a surrogate pair
     * @throws IOException where it is not JSON, or beyond the parser's limits, which bound the depth of the recursion too
     */
    static @Nullable JsonNode of(JsonParser parser) throws IOException {
        SoundTree reading = new SoundTree();
        JsonToken first = parser.nextToken();
        if (first == null) {
            return null;
        }
        JsonNode root = reading.value(first, parser);
        return reading.sound && parser.nextToken() == null ? root : null;
    }

    private JsonNode value(JsonToken token, JsonParser parser) throws IOException {
        return switch (token) {
            case START_OBJECT -> object(parser);
            case START_ARRAY -> array(parser);
            case VALUE_STRING -> text(parser.getText());
            case VALUE_NUMBER_INT -> whole(parser);
            case VALUE_NUMBER_FLOAT -> NODES.numberNode(parser.getDoubleValue());
            case VALUE_TRUE -> NODES.booleanNode(true);
            case VALUE_FALSE -> NODES.booleanNode(false);
            case VALUE_NULL, END_OBJECT, END_ARRAY, FIELD_NAME, NOT_AVAILABLE, VALUE_EMBEDDED_OBJECT -> {
                sound = false;
                yield NODES.nullNode();
            }
        };
    }

    private ObjectNode object(JsonParser parser) throws IOException {
        ObjectNode object = NODES.objectNode();
        for (String name = parser.nextFieldName(); name != null; name = parser.nextFieldName()) {
            if (object.replace(name, value(parser.nextToken(), parser)) != null) {
                sound = false;
            }
        }
        return object;
    }

    private ArrayNode array(JsonParser parser) throws IOException {
        ArrayNode array = NODES.arrayNode();
        for (JsonToken token = parser.nextToken(); token != JsonToken.END_ARRAY; token = parser.nextToken()) {
            array.add(value(token, parser));
        }
        return array;
    }

    private JsonNode text(String text) {
        sound &= !Json.hasLoneSurrogate(text);
        return NODES.textNode(text);
    }

    private static JsonNode whole(JsonParser parser) throws IOException {
        return switch (parser.getNumberType()) {
            case INT -> NODES.numberNode(parser.getIntValue());
            case LONG -> NODES.numberNode(parser.getLongValue());
            case BIG_INTEGER, FLOAT, DOUBLE, BIG_DECIMAL -> NODES.numberNode(parser.getBigIntegerValue());
        };
    }
}
