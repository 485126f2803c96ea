package comebackledger.judge;

import comebackledger.visit.Stage;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * What the bus checks of one network and stage, taken together, say.
 *
 * @param pointers the checks that count
 * @param readings the readings taken, by wire name; {@code rollCall} is not among them
 * @param answered of the roll call
 * @param suspects by falling probability, the first few
 * @param highLowOhm the comparable reading between the lines, leads taken off
 */
public record BusFact(String network, Stage stage, List<String> pointers, Verdict verdict, Set<String> readings, List<String> answered,
        List<String> silent, List<SuspectFact> suspects, OptionalDouble highLowOhm, OptionalDouble highLowLow,
        OptionalDouble highLowHigh) {
    /** Whether it could pass: something valid was measured or called. */
    public boolean counts() {
        return verdict == Verdict.WITHIN || verdict == Verdict.OUTSIDE || !silent.isEmpty();
    }

    public boolean fails() {
        return verdict == Verdict.OUTSIDE || !silent.isEmpty();
    }

    public boolean passes() {
        return verdict == Verdict.WITHIN && silent.isEmpty();
    }

    public boolean called() {
        return !answered.isEmpty() || !silent.isEmpty();
    }
}
