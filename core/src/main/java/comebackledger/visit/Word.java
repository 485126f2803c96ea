package comebackledger.visit;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;

/** A member of a closed set of words, as the wire spells it. */
public interface Word {
    String word();

    static <E extends Word> Map<String, E> map(E[] values) {
        Map<String, E> words = new LinkedHashMap<>();
        for (E value : values) {
            words.put(value.word(), value);
        }
        return Collections.unmodifiableMap(words);
    }
}
