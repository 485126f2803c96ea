package comebackledger.visit;

import comebackledger.Require;
import java.util.Optional;

/**
 * What was done.
 *
 * @param place as sent; {@link Place#of} tells whether a trail can hang on it
 * @param claimsFixed the shop says the fault is gone
 */
public record Repair(String place, Optional<String> cause, RepairAction action, Optional<String> part, boolean claimsFixed) {
    public Repair {
        Require.that(!(claimsFixed && action == RepairAction.NONE),
                "claimsFixed needs an action: with action none nothing was done that could have fixed it");
    }
}
