package comebackledger.openapi;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.measure.UnitOfMeasure;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.TreeSet;

/** Bodies like a good one, with some leaves moved as far as they go: numbers, units of measure, words of any closed set, missing members. */
final class Mutation {
    private static final double[] FAR = {0, 1e-12, 1e-6, 0.001, 0.1, 0.5, 1, 1.5, 2, 11, 12, 20, 31, 48, 120, 200, 255, 287, 500, 1000, 1e4, 1e5, 2e6,
            1e9,
            1e11, -1, -20, -1e5};
    private static final List<String> WORDS = words();

    private Mutation() {}

    private static List<String> words() {
        TreeSet<String> words = new TreeSet<>();
        Contract.DOCUMENT.at("/components/schemas").findValues("enum").forEach(list -> list.forEach(word -> words.add(word.asText())));
        return List.copyOf(words);
    }

    static JsonNode of(JsonNode body, SplittableRandom random) {
        JsonNode copy = body.deepCopy();
        List<Place> leaves = new ArrayList<>();
        collect(copy, leaves);
        for (int changes = random.nextInt(1, 6); changes > 0; changes--) {
            leaves.get(random.nextInt(leaves.size())).change(random);
        }
        return copy;
    }

    private record Place(JsonNode parent, String name) {
        void change(SplittableRandom random) {
            JsonNode value = parent instanceof ObjectNode object ? object.path(name) : parent.path(Integer.parseInt(name));
            if (parent instanceof ObjectNode object) {
                if (random.nextInt(8) == 0 || value.isContainerNode()) {
                    object.remove(name);
                } else if (!value.isMissingNode()) {
                    object.set(name, other(value, random));
                }
            } else if (parent instanceof ArrayNode array && !value.isContainerNode() && !value.isMissingNode()) {
                array.set(Integer.parseInt(name), other(value, random));
            }
        }
    }

    private static JsonNode other(JsonNode value, SplittableRandom random) {
        JsonNodeFactory make = JsonNodeFactory.instance;
        if (value.isNumber()) {
            return random.nextBoolean()
                    ? make.numberNode(FAR[random.nextInt(FAR.length)])
                    : make.numberNode(value.doubleValue() * Math.pow(10, random.nextDouble(-4, 4)));
        }
        if (value.isBoolean()) {
            return make.booleanNode(random.nextBoolean());
        }
        return make.textNode(UnitOfMeasure.ofSymbol(value.asText())
                .map(unit -> pick(UnitOfMeasure.symbolsOf(unit.kind()), random)).orElseGet(() -> pick(WORDS, random)));
    }

    private static String pick(List<String> from, SplittableRandom random) {
        return from.get(random.nextInt(from.size()));
    }

    private static void collect(JsonNode node, List<Place> found) {
        node.properties().forEach(member -> {
            found.add(new Place(node, member.getKey()));
            collect(member.getValue(), found);
        });
        for (int i = 0; node.isArray() && i < node.size(); i++) {
            found.add(new Place(node, Integer.toString(i)));
            collect(node.get(i), found);
        }
    }
}
