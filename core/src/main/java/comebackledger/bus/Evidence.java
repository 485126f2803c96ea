package comebackledger.bus;

import java.util.List;
import java.util.Optional;

/**
 * What is known of the network beside the readings.
 *
 * @param codes empty: nobody read them; an empty list: read, and there were none
 * @param done further tests of the same check
 * @param history repairs at places of this network before this check
 */
public record Evidence(Optional<RollCall> rollCall, Optional<List<CodeSign>> codes, List<DoneTest> done, List<PastRepair> history) {
    public static final Evidence NONE = new Evidence(Optional.empty(), Optional.empty(), List.of(), List.of());

    /** @param part the place's last part; @param proven a passing test followed, so this part is less likely the cause again */
    public record PastRepair(String part, boolean proven) {}

    public Evidence {
        codes = codes.map(List::copyOf);
        done = List.copyOf(done);
        history = List.copyOf(history);
    }
}
