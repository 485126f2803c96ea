package comebackledger.judge;

import comebackledger.measure.Measured;
import comebackledger.visit.AirMethod;
import comebackledger.visit.Stage;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What one charge-air test says.
 *
 * @param orificeMm the single hole at the fleet's discharge coefficient, so that holes of one unit can be compared
 * @param orificeLimitMm the single hole, likewise, that would lose the policy's share, where the build tells
 * @param shareOfEngineAir lost at rated boost, 0 to 1
 */
public record AirFact(String pointer, Stage stage, AirMethod method, Verdict verdict, List<String> leaksAt, Optional<Measured> orificeMm,
        OptionalDouble orificeLimitMm, OptionalDouble shareOfEngineAir) {
    public boolean fails() {
        return verdict == Verdict.OUTSIDE || !leaksAt.isEmpty();
    }

    public boolean passes() {
        return verdict == Verdict.WITHIN && leaksAt.isEmpty();
    }
}
