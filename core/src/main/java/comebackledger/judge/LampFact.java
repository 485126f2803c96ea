package comebackledger.judge;

import java.util.Optional;

/** Each lamp as last reported in the visit, from the dash or any sender; empty where nobody reported it. */
public record LampFact(Optional<Boolean> redStop, Optional<Boolean> amberWarning, Optional<Boolean> malfunction, Optional<Boolean> protect) {
    public static final LampFact UNKNOWN = new LampFact(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
}
