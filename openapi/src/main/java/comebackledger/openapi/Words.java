package comebackledger.openapi;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Function;

/** A closed set of core by the words that the wire writes, in its order. */
public final class Words {
    private Words() {}

    public static <E> Map<String, E> of(E[] values, Function<E, String> word) {
        Map<String, E> words = new LinkedHashMap<>();
        for (E value : values) {
            words.put(word.apply(value), value);
        }
        return Collections.unmodifiableMap(words);
    }
}
