package comebackledger.visit;

import comebackledger.Require;
import java.util.Collections;
import java.util.List;

/** Which modules answered when addressed and which stayed silent. */
public record RollCall(List<String> answered, List<String> silent) {
    public RollCall {
        answered = List.copyOf(answered);
        silent = List.copyOf(silent);
        Require.that(Collections.disjoint(answered, silent), "a module cannot both have answered and been silent");
    }
}
