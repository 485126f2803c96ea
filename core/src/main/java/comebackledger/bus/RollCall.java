package comebackledger.bus;

import java.util.List;
import java.util.stream.Stream;

/** Which modules answered when addressed and which stayed silent; one not named was not called. */
public record RollCall(List<String> answered, List<String> silent) {
    public RollCall {
        answered = List.copyOf(answered);
        silent = List.copyOf(silent);
    }

    Stream<String> called() {
        return Stream.concat(answered.stream(), silent.stream());
    }

    boolean isAllSilent() {
        return answered.isEmpty() && !silent.isEmpty();
    }
}
